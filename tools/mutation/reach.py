"""Which tests come by which line: recorded once, kept in `.cache`, asked for each mutant."""

from __future__ import annotations

import ast
import functools
import hashlib
import json
from collections import defaultdict
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from . import targets
from .mutant import Site
from .server import goes_first

LEFT_OUT = ("tests/browser/", "tests/engines/", "tests/runtime/")
# Seconds of recorded processor time spent on one mutant: tests that come by its line, and others
# of its file where those are few. Of the first, those in the folder that mirrors the line's go
# before: what is meant to hold a line is not left out for what only comes by it.
# Recording makes tests about twice as slow as they are.
OWN, NEAR, FAR = 40.0, 60.0, 25.0
# They read the rule sets' files themselves, and not figure by figure: they are tests of every one.
OF_ALL_FIGURES = ("tests/calculators/test_figures.py",)
# It reads the files that make markup, and runs none of them.
OF_ALL_MARKUP = ("tests/test_unescaped.py",)
Tests = dict[str, dict[str, float]]
Timed = tuple[str, str, float]  # test file, test, seconds


def test_files(root: Path) -> list[str]:
    """The test files whose tests can be tried on a mutant."""
    found = sorted(path.relative_to(root).as_posix() for path in (root / "tests").rglob("test_*.py"))
    return [path for path in found if not path.startswith(LEFT_OUT)]


class Store:
    """The records of all test files, each in a file of its own."""

    def __init__(self, root: Path, folder: Path) -> None:
        self.root = root
        self.folder = folder
        folder.mkdir(parents=True, exist_ok=True)

    def _path(self, file: str) -> Path:
        return self.folder / f"{file.replace('/', '-')}.json"

    def read(self, file: str) -> dict[str, Any]:
        """A test file's record, {} where there is none of it as it now is."""
        try:
            record: dict[str, Any] = json.loads(self._path(file).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return record if record.get("digest") == digest(self.root / file) else {}

    def write(self, file: str, record: dict[str, Any]) -> None:
        """Keep a record."""
        self._path(file).write_text(json.dumps(record), encoding="utf-8")

    def missing(self, anew: bool) -> list[str]:
        """The test files that have to be recorded."""
        return [file for file in test_files(self.root) if anew or not self.read(file)]

    def reach(self) -> Reach:
        """All records, to be asked."""
        return Reach(self.root, {file: self.read(file) for file in test_files(self.root)})


def digest(path: Path) -> str:
    """A file's state."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


class Reach:
    """Asked for the tests of a place."""

    def __init__(self, root: Path, records: dict[str, dict[str, Any]]) -> None:
        self.root = root
        self.records = {file: record for file, record in records.items() if record.get("tests")}

    def tests(self, site: Site) -> Tests:
        """The tests to try after recorded answers, with the seconds of each, within the budget of one mutant."""
        if targets.group_of(site.path) == "rules":
            return _within([(NEAR, _others(self._reading(site)))])
        near, far = map(_others, self._by_line(site))
        own = [each for each in near if each[0].startswith(_mirror(site.path))]
        return _within([(OWN, own), (NEAR, near), (FAR, far)])

    def first(self, site: Site) -> Tests:
        """Of recorded answers all that come by a place, or read its figure."""
        near = self._reading(site) if targets.group_of(site.path) == "rules" else self._by_line(site)[0]
        return _gathered(each for each in near if goes_first(each[0]))

    def beside(self, site: Site) -> Tests:
        """All other tests beside a place that come by its line, however long they take; none for a figure of a rule set."""
        near = [] if targets.group_of(site.path) == "rules" else _others(self._by_line(site)[0])
        return _gathered(each for each in near if each[0].startswith(_mirror(site.path)))

    def _reading(self, site: Site) -> list[Timed]:
        set_name, subject = site.path.removesuffix(".toml").split("/")[-2:]
        key = f"{subject}.{site.owner}"
        names = [f"{each}/{key}" for each in _sets(set_name)]
        return [found for file, record in self.records.items()
                for found in self._timed(file, record["tests"] if file in OF_ALL_FIGURES else
                                         {test for name in names for test in record["keys"].get(name, ())})]  # fmt: skip

    def _by_line(self, site: Site) -> tuple[list[Timed], list[Timed]]:
        lines = statement(str(self.root / site.path), site.line)
        near, far = [], []
        for file, record in self.records.items():
            by_test = record["lines"].get(site.path, {})
            known = record["sources"].get(site.path) == digest(self.root / site.path)
            hit = {test for test, seen in by_test.items() if known and lines.intersection(seen)}
            if site.operator == "Unescape" and file in OF_ALL_MARKUP:
                hit = set(record["tests"])
            near += self._timed(file, hit)
            # While it is only imported a test is not known by name: then all of the file's.
            others = set(record["tests"]) if "" in by_test else set(by_test)
            far += self._timed(file, others - hit)
        return near, far

    def _timed(self, file: str, tests: Iterable[str]) -> list[Timed]:
        record = self.records[file]
        wanted = set(tests)
        if "" in wanted:
            # Read while the file was collected: any of its tests may rest on it.
            wanted = set(record["tests"])
        return [(file, test, record["tests"][test]) for test in sorted(wanted)
                if test in record["tests"] and test not in record["failed"]]  # fmt: skip


def _sets(name: str) -> tuple[str, ...]:
    return ("us", "ca", "uk", "eu", "au") if name == "common" else (name,)


def _mirror(path: str) -> str:
    """Where the tests of a file stand: those of ``tools/book/`` in ``tests/book/``."""
    return f"tests/{path.removeprefix('tools/').rpartition('/')[0]}/"


def _others(timed: list[Timed]) -> list[Timed]:
    """Those that are no recorded answers."""
    return [each for each in timed if not goes_first(each[0])]


def _gathered(timed: Iterable[Timed]) -> Tests:
    found: Tests = defaultdict(dict)
    for file, test, seconds in timed:
        found[file][test] = seconds
    return dict(found)


def _within(tiers: list[tuple[float, list[Timed]]]) -> Tests:
    """Of each tier as many as its budget holds, the fastest first."""
    chosen: Tests = defaultdict(dict)
    spent = 0.0
    for budget, tier in tiers:
        for file, test, seconds in sorted(tier, key=lambda each: each[2]):
            if test not in chosen.get(file, ()) and spent + seconds <= budget:
                chosen[file][test] = seconds
                spent += seconds
    everything = [each for _, tier in tiers for each in tier]
    if not chosen and everything:
        file, test, seconds = min(everything, key=lambda each: each[2])
        chosen[file][test] = seconds
    return dict(chosen)


@functools.lru_cache(maxsize=64)
def _spans(path: str) -> tuple[tuple[int, int], ...]:
    """First and last line of every statement, of one with a body only its head."""
    tree = ast.parse(Path(path).read_text(encoding="utf-8"))
    spans = []
    for node in ast.walk(tree):
        if isinstance(node, (ast.stmt, ast.ExceptHandler)):
            body = getattr(node, "body", None)
            last = body[0].lineno - 1 if isinstance(body, list) and body else node.end_lineno
            spans.append((node.lineno, max(last or node.lineno, node.lineno)))
    return tuple(spans)


def statement(path: str, line: int) -> frozenset[int]:
    """The lines of the innermost statement that a line belongs to."""
    around = [span for span in _spans(path) if span[0] <= line <= span[1]]
    first, last = min(around, key=lambda span: span[1] - span[0], default=(line, line))
    return frozenset(range(first, last + 1))
