"""What there is to choose: sets of lanes for each product, and what each of them uses."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from .model import Choice, Group, Lane, Problem, groups_of


class Space:
    """The problem with like trays put together: pairs of a group and a coil are its places.

    Resources are numbered groups first, then kinds of coil.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.groups: tuple[Group, ...] = groups_of(problem)
        self.limits = [group.room for group in self.groups] + list(problem.stock)
        kinds = range(len(problem.stock))
        self.pairs = [(g, k) for g in range(len(self.groups)) for k in kinds]
        self.ends = [(g, len(self.groups) + k) for g, k in self.pairs]
        self.bonus = problem.bonus
        self.clashes = self._clashes()
        self.products = [self._places(number) for number in range(len(problem.products))]

    def _clashes(self) -> list[dict[int, list[int]]]:
        """For each product the clashes of each group: limits of one, for a pair in a single tray."""
        found: list[dict[int, list[int]]] = [{} for _ in self.problem.products]
        for pair in sorted(self.problem.apart):
            for number, group in enumerate(self.groups):
                tray = group.trays[0]
                if len(group.trays) == 1 and all(any(self.problem.holds[p][tray]) for p in pair):
                    for p in set(pair):
                        found[p].setdefault(number, []).append(len(self.limits))
                    self.limits.append(1)
        return found

    def _places(self, number: int) -> dict[int, int]:
        """Pieces each usable pair holds of a product."""
        holds = self.problem.holds[number]
        found = {}
        for pair, (g, k) in enumerate(self.pairs):
            room = holds[self.groups[g].trays[0]][k]
            if room and self.problem.stock[k] and self.groups[g].room:
                found[pair] = room
        return found

    def pair_prices(self, prices: Sequence[float]) -> list[float]:
        """What one lane with its coil costs."""
        return [prices[g] + prices[k] for g, k in self.ends]

    def choice(self, number: int, places: tuple[int, ...]) -> Choice:
        """A choice of lanes with its worth and what it uses."""
        product, room = self.problem.products[number], self.products[number]
        worth = product.gain(sum(room[pair] for pair in places))
        worth += self.bonus * (bool(product.needed and places) + self._kept(number, places))
        uses: dict[int, int] = {}
        for pair in places:
            for resource in self.ends[pair]:
                uses[resource] = uses.get(resource, 0) + 1
        for group in self.clashes[number]:
            if group in uses:
                uses.update(dict.fromkeys(self.clashes[number][group], 1))
        return Choice(worth, places, tuple(sorted(uses.items())))

    def _kept(self, number: int, places: Sequence[int]) -> int:
        """Pins that a choice can keep."""
        kept = 0
        pins = [tray for tray, _ in self.problem.products[number].pins]
        for tray in set(pins):
            lanes = sum(tray in self.groups[self.pairs[pair][0]].trays for pair in places)
            kept += min(lanes, pins.count(tray))
        return kept

    def fits(self, choice: Choice) -> bool:
        """Whether there are lanes and coils enough for it alone."""
        return all(count <= self.limits[resource] for resource, count in choice.uses)

    def sizes(self) -> list[int]:
        """The most pieces a lane holds with each kind of coil."""
        found = [0] * len(self.problem.stock)
        for room in self.products:
            for pair, pieces in room.items():
                kind = self.pairs[pair][1]
                found[kind] = max(found[kind], pieces)
        return found

    def counts(self, chosen: Sequence[Choice]) -> list[dict[int, int]]:
        """Lanes of each product in each group."""
        found: list[dict[int, int]] = [{} for _ in self.groups]
        for number, choice in enumerate(chosen):
            for pair in choice.places:
                group = found[self.pairs[pair][0]]
                group[number] = group.get(number, 0) + 1
        return found

    def chosen(self, lanes: Iterable[Lane]) -> list[Choice]:
        """A known plan's choices, as this problem's groups have them."""
        group = {tray: number for number, each in enumerate(self.groups) for tray in each.trays}
        number = {pair: place for place, pair in enumerate(self.pairs)}
        places: list[list[int]] = [[] for _ in self.problem.products]
        for lane in lanes:
            places[lane.product].append(number[group[lane.tray], lane.coil])
        return [self.choice(p, tuple(sorted(each))) for p, each in enumerate(places)]

    # -- every choice that is not too dear ----------------------------------------------------

    def choices(self, number: int, costs: Sequence[float], least: float) -> list[Choice]:
        """All choices of a product whose worth less cost is at least ``least``, the best first."""
        found: list[tuple[float, Choice]] = []
        for places, cost in self._sets(number, costs, least):
            choice = self.choice(number, places)
            if choice.worth - cost >= least and self.fits(choice):
                found.append((cost - choice.worth, choice))
        found.sort(key=lambda each: (each[0], each[1].places))
        return [choice for _, choice in found]

    def _sets(self, number: int, costs: Sequence[float],
              least: float) -> Iterator[tuple[tuple[int, ...], float]]:  # fmt: skip
        """Sets of lanes, cut off where even the rest for nothing would be too dear."""
        product, room = self.problem.products[number], self.products[number]
        order = sorted(room, key=lambda pair: (costs[pair], pair))
        extra = self.bonus * (product.needed + len(product.pins))
        most = max(room.values(), default=0)
        waiting: list[tuple[tuple[int, ...], float, int, int]] = [((), 0.0, 0, 0)]
        while waiting:
            places, cost, pieces, first = waiting.pop()
            yield tuple(sorted(places)), cost
            left = product.most - len(places)
            if not left:
                continue
            for place in range(first, len(order)):
                pair = order[place]
                spent = cost + costs[pair]
                if product.gain(pieces + left * most) + extra - spent < least:
                    break  # the others cost no less
                waiting.append(((*places, pair), spent, pieces + room[pair], place))
