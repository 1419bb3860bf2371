"""Runs played side by side against the independent model, one buyer at a time; draws against the laws they should follow."""

from __future__ import annotations

import dataclasses
import random
from collections import Counter
from collections.abc import Iterable
from typing import Any

import pytest
import scipy.stats

from calculators.core import rules
from calculators.float import buyers, chain, draws, lanes, simulate
from calculators.float.abreast import Abreast, Whole
from calculators.float.chain import at_once
from calculators.float.groups import Group, of_runs
from calculators.float.judge import Judge, _Played
from calculators.float.lanes import Lanes, lanes_of
from calculators.float.machine import Machine
from calculators.float.simulate import Tally
from tests.calculators.float.reference import Spec, Unit, ordered, random_spec, set_spec


def group_of(spec: Spec, rng: random.Random, runs: int) -> tuple[Lanes | None, list[list[int]]]:
    """The set-up side by side, where it can be, and runs of kinds of sale; some of nobody at all."""
    kinds = [[rng.randrange(len(spec.kinds)) for _ in range(rng.choice((0, 1, 7, 25, 60)))] for _ in range(runs)]
    return lanes_of(Machine(spec.setup())), kinds


def packed(runs: Iterable[list[int]]) -> list[bytes]:
    return [bytes(kind + 1 for kind in run) for run in runs]


def clean(made: Lanes, counts: dict[int, int], group: Group) -> tuple[int, int]:
    return at_once(Abreast(made, ordered(counts), group).clean())


def first_refusals(spec: Spec, counts: dict[int, int], runs: list[list[int]]) -> list[int | None]:
    """For each run the place of the first buyer turned away, by the independent model."""
    found: list[int | None] = []
    for run in runs:
        unit = Unit(spec, counts)
        found.append(next((place for place, kind in enumerate(run) if not unit.offer(spec.kinds[kind])), None))
    return found


def specs() -> list[Any]:
    """Of our own coins, and of those of every set."""
    found = [random_spec(random.Random(f"abreast {seed}"), small=seed % 4 == 0) for seed in range(90)]
    for name in rules.RULE_SETS:
        known = rules.load(name)
        coins = [row["value"] for row in known["coins.table"].value]
        found += [set_spec(random.Random(f"abreast {name} {seed}"), coins, known["coins.notes"].value) for seed in range(12)]
    return found


def test_run_by_run_both_models_agree() -> None:
    """Which runs are clean, and where the others end: every way to take notes and pay out, with marks and boxes."""
    seen: Counter[Any] = Counter()
    for number, (spec, counts) in enumerate(specs()):
        rng = random.Random(number)
        made, runs = group_of(spec, rng, 40)
        if made is None:
            seen["one by one"] += 1
            continue
        wanted = first_refusals(spec, counts, runs)
        for run, place in zip(runs, wanted, strict=True):  # each by itself, so that none hides behind another
            group = of_runs(made, packed([run]))
            if group.odd:
                seen["may fill a box"] += 1
                continue
            assert clean(made, counts, group) == (place is None, len(run) if place is None else place + 1)
        group = of_runs(made, packed(runs))
        plain = [place for run, place in zip(runs, wanted, strict=True) if not of_runs(made, packed([run])).odd]
        assert clean(made, counts, group)[0] == plain.count(None)
        seen[spec.payout, spec.accept, spec.own, bool(made.marks)] += 1
    assert seen["one by one"] < sum(seen.values()) / 3
    assert len(seen) > 16


def test_whole_runs_tell_the_same_as_one_by_one() -> None:
    """Who was refused and why, when notes were first refused, what fell into the box and what is left in each tube."""
    refused: Counter[str] = Counter()
    for number, (spec, counts) in enumerate(specs()):
        made, runs = group_of(spec, random.Random(number), 25)
        group = of_runs(made, packed(runs)) if made else None
        if made is None or group is None or group.odd:
            continue
        none = [0] * len(spec.caps)
        machine, side, one = made.machine, Tally(fallen=none[:]), Tally(fallen=none[:])
        at_once(Whole(made, ordered(counts), group, side).play())
        for run in runs:
            simulate.play(machine, machine.start(ordered(counts)), [machine.moves[kind] for kind in run], one)
        assert [sorted(each.ends) for each in (side,)] == [sorted(one.ends)]
        assert sorted(side.notes_off) == sorted(one.notes_off)
        for name in ("runs", "clean", "refused", "reasons", "fallen", "came"):
            assert getattr(side, name) == getattr(one, name), (number, name)
        refused += side.reasons
    assert min(refused["change"], refused["low mark"], refused["price"]) > 20


def test_a_judge_plays_the_same_side_by_side_and_one_by_one() -> None:
    """The same runs come out clean, at the same cost, whether or not they may fill a box."""
    mixed = 0
    for seed in range(40):
        spec, counts = random_spec(random.Random(f"judge {seed}"))
        found = []
        for one_by_one in (False, True):
            judge = Judge(spec.setup(), chain.poisson(14.0), 0.9, seed)
            if one_by_one and judge.lanes:
                judge.lanes = None
                judge.buyers = buyers.Buyers(judge.spread, judge.machine, seed)
            elif judge.lanes:
                mixed += any(group.odd for group in judge.buyers.groups(judge.lanes, 0, 512))
            played = _Played()
            at_once(judge._play(judge.machine.start(ordered(counts)), played, 512))
            found.append((played, judge._sales))
        assert found[0] == found[1]
    assert mixed >= 3


def test_lanes_are_as_wide_as_their_numbers_ask_for() -> None:
    """Sixteen bits for an ordinary cabinet, thirty-two for thousands of coins; both play alike."""
    rng = random.Random(5)
    caps = {100: 1900, 50: 1000, 5: 1000}
    spec = Spec(caps, [125, 190], [("note", 125, 200), ("note", 190, 200), ("coins", 125, {100: 1, 5: 5})], [1.0] * 3)
    made, runs = group_of(spec, rng, 30)
    assert made is not None
    assert made.width == 32
    counts = {100: 2, 50: 3, 5: 14}
    wanted = first_refusals(spec, counts, runs)
    assert clean(made, counts, of_runs(made, packed(runs)))[0] == wanted.count(None)
    assert 0 < wanted.count(None) < 30
    few = Spec({25: 60, 5: 60}, [125, 190], spec.kinds[:2], [1.0] * 2)
    assert (found := lanes_of(Machine(few.setup()))) is not None
    assert found.width == 16


@pytest.mark.parametrize(("unit", "most"), [(1, 400), (2, 75), (3, 400), (5, 4000), (20, 399), (40, 2000)])
def test_a_factor_and_a_shift_divide_exactly(unit: int, most: int) -> None:
    """Every number up to the greatest change due."""
    factor, shift = lanes._division(unit, most)
    assert [number * factor >> shift for number in range(most + 1)] == [number // unit for number in range(most + 1)]


def expected(weights: list[float], number: int) -> list[float]:
    return [number * weight / sum(weights) for weight in weights]


@pytest.mark.parametrize("weights", [[1.0], [3.0, 1.0, 0.02, 2.0], [1 / 3, 2 / 3], [float(each % 7 + 1) for each in range(draws.MANY)]])
def test_kinds_come_as_often_as_their_weights_say(weights: list[float]) -> None:
    """A million draws against the library's test of fit; of a kind that never comes, none."""
    drawn = Counter(draws.Picker(weights).draw(random.Random(11), 1_000_000))
    assert set(drawn) <= set(range(1, len(weights) + 1))
    seen = [drawn[kind] for kind in range(1, len(weights) + 1)]
    assert len(weights) == 1 or scipy.stats.chisquare(seen, expected(weights, 1_000_000)).pvalue > 1e-4


def test_what_is_left_of_the_parts_is_shared_out_too() -> None:
    """Kinds lighter than a 256th of all come from the second byte on, those lighter than a 65,536th from the third."""
    weights = [1.0, 1 / 300, 1 / 90_000, 0.0]
    picker = draws.Picker(weights)
    assert set(picker._kinds) == {1, draws.OPEN}
    assert isinstance(picker._rest, draws.Picker)
    assert set(picker._rest._kinds) >= {1, 2, draws.OPEN}
    drawn = Counter(picker.draw(random.Random(3), 6_000_000))
    assert drawn[4] == 0
    assert scipy.stats.chisquare([drawn[kind] for kind in (1, 2, 3)], expected(weights[:3], 6_000_000)).pvalue > 1e-4


def test_what_six_bytes_leave_open_is_drawn_as_a_number(monkeypatch: pytest.MonkeyPatch) -> None:
    """With one byte alone the rest of two thirds comes by the library's random numbers, as often as it should."""
    monkeypatch.setattr(draws, "LEVELS", 1)
    picker = draws.Picker([1.0, 1.0, 1.0])
    assert isinstance(picker._rest, draws.Last)
    seen = Counter(picker._rest.draw(random.Random(5), 30_000))
    assert scipy.stats.chisquare([seen[kind] for kind in (1, 2, 3)]).pvalue > 1e-4


def test_a_run_has_as_many_buyers_as_the_spread_says_of_the_kinds_that_come() -> None:
    """Its length by Poisson's law, its buyers by their weights wherever they stand in it: first or last, long run or short."""
    spec = Spec({25: 60, 5: 60}, [125, 150], [("note", 125, 200), ("coins", 125, {25: 5}), ("note", 150, 200)], [5.0, 2.0, 1.0])
    machine = Machine(spec.setup())
    runs = [[move[2] for move in run] for run in buyers.Buyers(chain.poisson(9.0), machine, 12).some(0, 8192)]
    assert len(runs) == 8192
    counts = Counter(min(20, max(3, len(run))) for run in runs)
    law = scipy.stats.poisson(9.0)
    shares = [law.cdf(3), *law.pmf(range(4, 20)), law.sf(19)]
    assert scipy.stats.chisquare([counts[each] for each in range(3, 21)], expected(shares, 8192)).pvalue > 1e-4
    for place in (0, 5, -1):
        seen = Counter(run[place] for run in runs if len(run) > 5)
        assert scipy.stats.chisquare([seen[kind] for kind in range(3)], expected([5.0, 2.0, 1.0], seen.total())).pvalue > 1e-4
    pairs = Counter((run[0], run[1]) for run in runs if len(run) > 1)  # no buyer depends on the one before
    table = [[pairs[one, two] for two in range(3)] for one in range(3)]
    assert scipy.stats.chi2_contingency(table).pvalue > 1e-4


@pytest.mark.parametrize("note_cap", [8, 9])
def test_runs_that_fill_a_box_are_found_whatever_they_are_laid_as(note_cap: int) -> None:
    """The most that any run of a group puts into a box, added up side by side, against run by run."""
    spec = Spec({25: 60, 5: 60}, [125], [("note", 125, 200), ("coins", 125, {25: 5})], [1.0, 3.0], note_cap=note_cap)
    machine = Machine(spec.setup())
    made = lanes_of(machine)
    assert made is not None
    seen = set()
    for seed in range(40):
        mine = buyers.Buyers(chain.poisson(14.0), machine, seed)
        runs = [[move[2] for move in run] for run in mine.some(0, 64)]
        group = mine.group(made, 0, 64)
        odd = sum(run.count(0) > note_cap for run in runs)  # each of them pays with one note
        assert len(group.odd) == odd
        assert len(group.lengths) == 64 - odd
        seen.add(odd > 0)
    assert seen == {True, False}


def test_more_kinds_than_a_byte_holds_are_played_one_by_one() -> None:
    """They are drawn by the library's random numbers, as often as they should come."""
    sales = [("note", 5 * number, 200) for number in range(1, draws.MANY + 2)]
    spec = Spec({25: 20, 5: 40}, [5], sales, [1.0] * len(sales), accept="cheapest")
    machine = Machine(spec.setup())
    assert lanes_of(machine) is None
    runs = buyers.Buyers(chain.poisson(40.0), machine, 9).some(0, 512)
    seen = Counter(move[2] for run in runs for move in run)
    assert scipy.stats.chisquare([seen[kind] for kind in range(len(sales))]).pvalue > 1e-4


def asked(spec: Spec, counts: dict[int, int], wanted: float = 0.9, mean: float = 14.0, seed: int = 3) -> tuple[Judge, Any]:
    """What a judge says, and what it believes that it has cost."""
    judge = Judge(spec.setup(), chain.poisson(mean), wanted, seed)
    told = [at_once(judge.decide(ordered(counts), 40_000)), at_once(judge.rough(ordered(counts))), judge.played]
    return judge, (told, at_once(judge.tally(ordered(counts))))


def test_what_is_kept_of_the_last_answer_changes_none() -> None:
    """Buyers, plays and whole runs of the same cabinet are used again: to the last number what a new judge says."""
    spec = Spec({25: 60, 10: 60, 5: 60}, [125, 150], [("note", 125, 100), ("note", 150, 500), ("coins", 125, {25: 5})], [3.0, 1.0, 2.0])
    counts, fewer = {25: 24, 10: 20, 5: 20}, {25: 20, 10: 20, 5: 20}
    forgotten()
    first, fresh = asked(spec, counts)
    again, same = asked(spec, counts)
    assert again.buyers is first.buyers
    assert same == fresh
    warm = [asked(spec, fewer), asked(spec, counts, 0.7)]
    assert all(judge.buyers is first.buyers for judge, _ in warm)
    for (_, said), (less, wanted) in zip(warm, ((fewer, 0.9), (counts, 0.7)), strict=True):
        forgotten()
        judge, anew = asked(spec, less, wanted)
        assert judge.buyers is not first.buyers
        assert said == anew
    smaller = Spec({**spec.caps, 5: 50}, spec.prices, spec.kinds, spec.weights)
    for changed in ({"seed": 4}, {"mean": 15.0}, {"spec": smaller}):
        other, _ = asked(**{"spec": spec, "counts": counts, **changed})
        assert other.buyers is not judge.buyers
        assert [other.buyers] == buyers._LAST


def test_buyers_who_may_fill_a_box_are_not_kept() -> None:
    """Their runs belong to one machine, which remembers what it has worked out."""
    spec = Spec({25: 60, 5: 60}, [125], [("note", 125, 200), ("coins", 125, {25: 5})], [1.0, 1.0], note_cap=9)
    judge, said = asked(spec, {25: 30, 5: 30})
    assert judge.buyers.mixed
    again, same = asked(spec, {25: 30, 5: 30})
    assert again.buyers is not judge.buyers
    assert said == same


def test_what_is_remembered_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plays, whole runs and groups: all are forgotten or not kept beyond their number, and nothing is said differently."""
    spec = Spec({25: 60, 5: 60}, [125], [("note", 125, 200), ("coins", 125, {25: 5})], [1.0, 1.0])
    loads = [{25: count, 5: 30} for count in (5, 10, 15, 20, 25, 30)]
    forgotten()
    plenty = [asked(spec, load)[1] for load in loads]
    for name, most in (("PLAYS", 3), ("WHOLES", 2), ("GROUPED", 0)):
        monkeypatch.setattr(buyers, name, most)
    forgotten()
    assert [asked(spec, load)[1] for load in loads] == plenty
    [kept] = buyers._LAST
    assert len(kept.plays) <= 3
    assert len(kept.wholes) <= 2
    assert len(kept._groups) <= 1


def test_refusals_are_forgotten_where_they_become_too_many(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search over thousands of loads must not fill a phone; the last one is always there."""
    crowd = buyers.Crowd(Machine(Spec({25: 60}, [125], [("coins", 125, {25: 5})], [1.0]).setup()).setup, 1)
    monkeypatch.setattr(buyers, "REFUSALS", 100)
    for number in range(9):
        crowd.remember((number,), (None, None), [], dict.fromkeys(range(40), 1))
        assert (number,) in crowd.refused
        assert sum(len(refused) for *_, refused in crowd.refused.values()) <= 100
    assert len(crowd.refused) == 1


def forgotten() -> None:
    buyers._LAST.clear()
    buyers._CROWD.clear()


def test_what_a_longer_stay_told_is_true_of_a_shorter_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """And the other way round, and with other boxes: to the last number, cost and all, what is said by itself."""
    played: list[int] = []
    clean_ = Abreast.clean

    def counted(play: Abreast) -> Any:
        played.append(len(play.group.lengths))
        return clean_(play)

    monkeypatch.setattr(Abreast, "clean", counted)
    saved = 0
    for seed in range(60):
        spec, counts = random_spec(random.Random(f"crowd {seed}"), boxes=seed % 2 == 0)
        boxed = dataclasses.replace(spec, note_cap=None if seed % 3 else 7, coin_cap=None if seed % 5 else 12)
        cases = [(spec, 9.0), (spec, 6.0), (boxed, 6.0), (spec, 11.0), (boxed, 5.0)]
        alone, cost = [], []
        for each, mean in cases:
            forgotten()
            played.clear()
            alone.append(asked(each, counts, mean=mean, seed=seed)[1])
            cost.append(sum(played))
        forgotten()
        for (each, mean), wanted, runs in zip(cases, alone, cost, strict=True):
            played.clear()
            assert asked(each, counts, mean=mean, seed=seed)[1] == wanted, (seed, mean)
            saved += sum(played) < runs
    assert saved > 60


def test_luck_brings_as_many_as_the_spread_says() -> None:
    """However the runs are sorted: lengths and kinds by their laws, and no longer run of a smaller mean."""
    machine = Machine(Spec({25: 60, 5: 60}, [125], [("note", 125, 200), ("coins", 125, {25: 5}), ("exact", 125, {})], [1.0, 3.0, 6.0]).setup())
    crowd = buyers.Crowd(machine.setup, 7)
    few, many = (buyers.Buyers(chain.poisson(mean), machine, 7, crowd).lengths(2048, 4096) for mean in (8.0, 8.5))
    assert all(less <= more for less, more in zip(few, many, strict=True))
    assert few == sorted(few, reverse=True)
    tried = scipy.stats.poisson(8.0)
    seen = Counter(min(max(length, 2), 15) for length in few)
    wanted = [tried.cdf(2), *(tried.pmf(number) for number in range(3, 15)), tried.sf(14)]
    assert scipy.stats.chisquare([seen[number] for number in range(2, 16)], [2048 * part for part in wanted]).pvalue > 0.001
    columns = crowd.people(2048, 4096).kinds(40)[:40]
    kinds = Counter(b"".join(columns))
    assert scipy.stats.chisquare([kinds[number] for number in (1, 2, 3)], [40 * 2048 * part for part in (0.1, 0.3, 0.6)]).pvalue > 0.001
    # Who comes is no matter of luck: of the luckiest runs and the least lucky ones the same part pays by note.
    halves = [sum(column[part].count(1) for column in columns) for part in (slice(0, 1024), slice(1024, 2048))]
    assert scipy.stats.chisquare(halves).pvalue > 0.001
