"""The last step of the proof by itself: small cases against trying every way, at prices that no cabinet would give."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Sequence

import pytest

from calculators.plan.finish import Case, Finish, Option, Table, Watch, tables_of
from calculators.plan.model import Choice

LIMITS = 4  # two groups of lanes, then two kinds of coil


def drawn(seed: int) -> tuple[Case, list[int]]:
    """Three to five products, with what there is of each limit: some have far more than anybody could want, some no price."""
    rng = random.Random(f"finish {seed}")
    lists = [[choice(rng) for _ in range(rng.randint(1, 4))] for _ in range(rng.randint(3, 5))]
    left = [rng.choice((rng.randint(0, 4), rng.randint(5, 30))) for _ in range(LIMITS)]
    prices = [rng.choice((0, rng.randint(1, 40))) for _ in range(LIMITS)]
    parts = [part for part in ([0, 1], [2], [3]) if all(prices[r] for r in part)]
    return Case(range(len(lists)), lists, left, prices, parts, sum(0 in part for part in parts)), left


def choice(rng: random.Random) -> Choice:
    """Some of each limit, or of none."""
    uses = {r: rng.randint(1, 3) for r in range(LIMITS) if rng.random() < 0.4}
    return Choice(rng.randint(0, 120), tuple(uses), tuple(uses.items()))


def most_worth(case: Case, left: Sequence[int]) -> float:
    """The most that any way is worth for which there is enough of everything."""
    def enough(way: Sequence[Choice]) -> bool:
        return all(sum(dict(each.uses).get(r, 0) for each in way) <= have for r, have in enumerate(left))

    return max((sum(each.worth for each in way) for way in itertools.product(*case.lists) if enough(way)), default=-math.inf)


def firsts(way: list[Option]) -> Sequence[Choice]:
    return [option.choices[0] for option in way]


@pytest.mark.parametrize("many", [False, True])
@pytest.mark.parametrize("part", range(4))
def test_the_way_found_is_worth_most(part: int, many: bool) -> None:
    """With a hair less allowed to be lost there is none. What is told on the way never lies above what is lost in the end."""
    for seed in range(part, 400, 4):
        case, left = drawn(seed)
        best = most_worth(case, left)
        loss = case.top - best
        for most in (1_000_000, loss, loss - 1):
            finish = Finish(case, tables_of(case, many=many), range(LIMITS), lambda _number, _choice: (), lambda _placed: True)
            run = finish.run(int(min(most, 1_000_000)), firsts, 1_000_000)
            try:
                while True:
                    assert next(run) <= loss
            except StopIteration as end:
                found = end.value
            assert finish.done
            if math.isinf(loss) or most < loss:
                assert found is None
            else:
                assert not isinstance(found, Watch)
                assert sum(each.worth for each in found) == best


@pytest.mark.parametrize("parts", [[[0]], [[0, 1], [2]], [[3], [0, 1], [2]]])
def test_a_table_tells_the_least_loss_of_the_steps_to_come(parts: list[list[int]]) -> None:
    """For every rest of its parts, each taken as one sum at its least price: by asking every choice in turn."""
    for seed in range(40):
        case, _ = drawn(seed)
        case.left = [min(have, 4) for have in case.left]
        table = Table(case, parts)

        def least(step: int, rest: tuple[int, ...], case: Case = case) -> float:
            if min(rest) < 0:
                return math.inf
            if step == len(case.lists):
                return sum(have * min(case.prices[r] for r in part) for have, part in zip(rest, parts, strict=True))
            return min(loss + least(step + 1, tuple(have - sum(dict(each.uses).get(r, 0) for r in part)
                                                    for have, part in zip(rest, parts, strict=True)))
                       for each, loss in zip(case.lists[step], case.losses[step], strict=True))  # fmt: skip

        for rest in itertools.product(*(range(size + 1) for size in table.sizes)):
            at = sum(have * stride for have, stride in zip(rest, table.strides, strict=True))
            for step in range(len(case.lists) + 1):
                wanted = least(step, rest)
                assert table.steps[step][at] == wanted or (math.isinf(wanted) and table.steps[step][at] > 1 << 50)
