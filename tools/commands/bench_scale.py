"""What a handbook of many sites costs to build, in processor time of all its processes; part of `bench`."""

from __future__ import annotations

import csv
import os
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from . import bench_search, build, large, node
from .place import DEMONSTRATION, Place
from .progress import Progress

CELL = "110 in"  # a site's clear floor in front, of which every large folder has one
OTHER = "111 in"
SIZES = (100, 1000)


@dataclass(frozen=True)
class Cost:
    """Seconds of processor time of one operator's handbook; ``pages`` and ``plain`` are for as many pages.

    ``largest`` is that of the pages of sites and ``listed`` the one page of all visits, in bytes; ``visits`` is the visit plan
    asked by itself, with no answer kept: on ``cores`` it was there after ``waited`` seconds. ``begun`` and ``answer`` are of
    the search, in milliseconds.
    """

    sites: int
    first: float
    answers: float
    changed: float
    unchanged: float
    pages: float
    plain: float
    count: int
    largest: int
    visits: float
    waited: float
    cores: int
    listed: int
    begun: float
    answer: float


def measure(sizes: Sequence[int], progress: Progress) -> list[Cost]:
    """The cost for each number of sites, in one run."""
    found = []
    for size in sizes:
        with tempfile.TemporaryDirectory() as name:
            found.append(_cost(Path(name), size, progress))
            print("\n".join(_lines(found[-1])), flush=True)  # a thousand sites take a while; a hundred are told before
    return found


def told(costs: list[Cost]) -> str:
    """The ratios, with their goals."""
    lines = [line for cost in costs for line in _lines(cost)]  # together once more, after all that builds said
    few, many = costs[0], costs[-1]
    if many.sites > few.sites:
        lines.append(f"{many.sites:,} sites against {few.sites:,} (goal at most 11):  {many.first / few.first:6.2f}")
    return "\n".join(lines)


def _lines(cost: Cost) -> list[str]:
    return [
        f"{cost.sites:,} sites, {cost.count:,} pages; first build {cost.first:.0f} s of processor time",
        f"    pages against as many plain ones (goal at most 3):  {cost.pages / cost.plain:6.2f}",
        f"    working out a site, coils included (goal at most 0.5 s):  {cost.answers / cost.sites:6.2f} s",
        f"    changed cell against first build (goal at most 0.1):  {cost.changed / cost.first:6.3f}",
        f"    nothing changed (goal at most 2 s):  {cost.unchanged:6.2f} s",
        f"    visit plan by itself (goal below 10 s on two free cores):  {cost.waited:.1f} s on {cost.cores}, "
        f"{cost.waited / cost.visits:.2f} of its {cost.visits:.1f} s of processor time",
        f"    largest page of a site (goal below 60 kB):  {cost.largest / 1e3:6.1f} kB",
        f"    the visit plan, one page for all sites:  {cost.listed / 1e3:6.1f} kB",
        f"    slowest answer of the search (goal at most 100 ms):  {cost.answer:6.0f} ms; to begin with {cost.begun:.0f} ms",
    ]


def _cost(folder: Path, size: int, progress: Progress) -> Cost:
    here = Place(folder / "operator", folder / "site", folder / "work")
    here.work.mkdir()
    large.write(DEMONSTRATION, here.folder, large.Size(size))
    progress.step(f"Building {size:,} sites, whole and with one cell changed")
    # By themselves first, so that they can be told apart; the build then finds them.
    kept = build.answers(here)
    answers = _seconds(lambda: build.work_out(build.read_book(here, kept=kept), progress))
    rest = _seconds(lambda: build.build_site(here, force=True))
    unchanged = _seconds(lambda: build.build_site(here, force=False))
    _change(here.folder / "tables" / "sites.csv")
    changed = _seconds(lambda: build.build_site(here, force=False))
    pages = [path for path in here.site.rglob("*.html") if path.is_file()]
    with (here.folder / "tables" / "sites.csv").open(encoding="utf-8", newline="") as table:
        sheets = [_bytes(here, row["key"]) for row in csv.DictReader(table)]
    begun, answer = bench_search.measure(here.site, node.find_node(progress.note))
    progress.step(f"Writing {len(pages):,} pages, ours and plain ones")
    return Cost(size, answers + rest, answers, changed, unchanged, _ours(here, folder), _plain(folder, len(pages)),
                len(pages), max(sheets), *_visits(here, folder), _bytes(here, "visits"), begun, answer)  # fmt: skip


def _visits(here: Place, folder: Path) -> tuple[float, float, int]:
    """The visit plan alone, cold: its processor time, how long one waits for it, and on how many cores."""
    from tools.results import ahead, visits

    alone = Place(here.folder, here.site, folder / "visits")
    data = build.read_book(alone, kept=build.answers(alone)).data

    def plan() -> None:
        ahead.visit_plan(data)
        visits.by_day(data)

    began = time.perf_counter()
    spent = _seconds(plan)
    return spent, time.perf_counter() - began, build.cores()


def _bytes(here: Place, name: str) -> int:
    """The size of a page about sites."""
    return (here.site / "sites" / f"{name}.html").stat().st_size


def _ours(here: Place, folder: Path) -> float:
    """Pages alone, as a site generator has them to write: answers are ready."""
    book = build.read_book(here, kept=build.answers(here))
    return _seconds(lambda: build.write_pages(book, folder / "ours"))


def _plain(folder: Path, count: int) -> float:
    from tools.material import plain

    return _seconds(lambda: plain.write(folder / "plain", count))


def _change(table: Path) -> None:
    text = table.read_text(encoding="utf-8")
    if CELL not in text:
        raise ValueError(f"no site of {table} has {CELL} to change")
    table.write_text(text.replace(CELL, OTHER, 1), encoding="utf-8")


def _seconds(work: Callable[[], object]) -> float:
    """Processor time of this process and of those it started and saw end."""
    before = sum(os.times()[:4])
    work()
    return sum(os.times()[:4]) - before
