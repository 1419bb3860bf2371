"""Draws the sample: seeded, spread over the groups, each place as likely as any other of its group."""

from __future__ import annotations

import random
from collections import defaultdict
from pathlib import Path
from types import ModuleType

from . import figures, targets
from .mutant import Mutant, Site

Places = dict[tuple[str, ...], list[Site]]


def places(root: Path, only: list[str]) -> dict[str, Places]:
    """Every place by group; what stands at one place, or belongs to one figure, is drawn as one."""
    found: dict[str, Places] = defaultdict(lambda: defaultdict(list))
    for path in targets.files(root, only):
        text = (root / path).read_text(encoding="utf-8")
        for site in _ways(path).sites(path, text):
            place = (path, site.owner) if site.owner else (path, str(site.line), str(site.column))
            found[targets.group_of_site(site)][place].append(site)
    return {group: dict(found[group]) for group in targets.SHARES if found[group]}


def _ways(path: str) -> ModuleType:
    if path.endswith(".toml"):
        return figures
    from . import operators  # the kept library is there for the mutation run only

    return operators


def quotas(groups: dict[str, Places], size: int) -> dict[str, int]:
    """How many of each group: its share of those that are there, and no more than it has."""
    whole = sum(targets.SHARES[group] for group in groups)
    wanted = {group: round(size * targets.SHARES[group] / whole) for group in groups}
    wanted[next(iter(groups))] += size - sum(wanted.values())  # what rounding left over
    return {group: min(count, len(groups[group])) for group, count in wanted.items()}


def draw(root: Path, only: list[str], size: int, seed: int) -> list[Mutant]:
    """The sample; the same seed on the same sources draws the same."""
    groups = places(root, only)
    drawn: list[Mutant] = []
    for group, count in quotas(groups, size).items():
        dice = random.Random(f"{seed}-{group}")  # noqa: S311 - no secret
        order = sorted(groups[group])
        _shuffle(order, dice)
        made: list[Mutant] = []
        for place in order:
            if len(made) == count:
                break
            sites = groups[group][place]
            mutant = _made(root, group, sites[int(dice.random() * len(sites))])
            made += [mutant] if mutant else []
        drawn += made
    return drawn


def _shuffle(order: list[tuple[str, ...]], dice: random.Random) -> None:
    for last in range(len(order) - 1, 0, -1):
        other = int(dice.random() * (last + 1))
        order[last], order[other] = order[other], order[last]


def _made(root: Path, group: str, site: Site) -> Mutant | None:
    text = (root / site.path).read_text(encoding="utf-8")
    new = _ways(site.path).mutated(text, site)
    return None if new is None else Mutant(site, group, text, new)
