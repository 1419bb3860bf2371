"""Finds drills: requests of the operator's own data with one thing changed that does change."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import calculators
from calculators.core import InputErrors
from calculators.core.units import Units
from tools.book.data import OperatorData

from . import asking, changes, subjects
from .changes import Case, Change, shuffled
from .subjects import Maker, Subject

# What must be left beyond the tolerance, as a share of the limit: a hair's breadth is no question.
SURE = 0.02
LONG = ("float",)  # whose checks are asked before it plays thousands of sales, which change none of them
ROUNDS = 12  # over all changes, where there are fewer things that they can happen to
PATIENCE = 6  # drills that do not turn the answer, passed over for one that does


@dataclass(frozen=True)
class Drill:
    """One question with its answer as the calculator gives it.

    ``asked`` is the check that is to be judged, with its place; ``before`` and ``after`` are its outcomes, the
    first one empty where the check came with the change. ``given`` is what the sheet says of it, ``decides`` what the
    calculator says then, ``working`` the steps behind it.
    """

    subject: Subject
    happened: str
    label: str
    was: str
    now: str
    given: str
    inputs: dict[str, Any]
    asked: tuple[str, str]
    question: str
    before: str
    after: str
    decides: str
    todo: str
    working: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def turns(self) -> bool:
        """Whether the change makes another answer of it."""
        return (self.before or "pass") != self.after

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What no two drills share."""
        return self.subject.calculator, self.subject.name, self.label, self.now

    @property
    def likeness(self) -> tuple[tuple[str, ...], ...]:
        """What no two drills share either: a check of a thing by a change; and from the same value the same answer."""
        name, check = self.subject.calculator, self.asked[0]
        return ((name, self.subject.name, check, self.happened, self.label),
                (name, check, self.happened, self.label, self.was, self.after))  # fmt: skip


@functools.lru_cache(maxsize=4)
def of(data: OperatorData) -> tuple[Drill, ...]:
    """The drills that an operator asks for."""
    return tuple(find(data, int(data.company.get("drills", "0"))))


def find(data: OperatorData, wanted: int, seed: int = 1) -> list[Drill]:
    """So many different drills, or as many as the data gives; the same for the same data.

    All calculators in turn. Some turn the answer and some do not, so that neither is a safe guess.
    """
    if not wanted:
        return []
    sources = {name: _Source(data, name, made, seed) for name, made in subjects.makers(data).items()}
    found: list[Drill] = []
    while sources and len(found) < wanted:
        for name in list(sources):
            drill = sources[name].next()
            if drill is None:
                del sources[name]
            elif len(found) < wanted:
                found.append(drill)
    return sorted(found, key=lambda drill: shuffled(seed, *drill.key))


class _Source:
    """The drills of one calculator, one after the other."""

    def __init__(self, data: OperatorData, name: str, made: Sequence[Maker], seed: int) -> None:
        self._data, self._name, self._seed = data, name, seed
        self._made = sorted(enumerate(made), key=lambda each: shuffled(seed, name, each[0]))
        self._subjects: dict[int, tuple[Subject, dict[str, Any]] | None] = {}
        self._seen: set[tuple[str, ...]] = set()
        self._balance = 0  # drills that turn, less those that do not
        self._passed: list[Drill] = []
        self._all = self._every()

    def next(self) -> Drill | None:
        """The next drill, one that turns the answer while these are no more than the others."""
        if self._balance > 0 and self._passed:
            return self._kept(self._passed.pop(0))
        for _ in range(PATIENCE):
            drill = next(self._all, None)
            if drill is None:
                break
            if self._balance > 0 or drill.turns:
                return self._kept(drill)
            self._passed.append(drill)
        return self._kept(self._passed.pop(0)) if self._passed else None

    def _kept(self, drill: Drill) -> Drill:
        self._balance += 1 if drill.turns else -1
        return drill

    def _every(self) -> Iterator[Drill]:
        """Each variant of each change once for each subject, all changes before any comes again."""
        slots = [(change, variant) for change in changes.listed(self._name) for variant in change.variants(self._data.units)]
        slots.sort(key=lambda slot: shuffled(self._seed, slot[0].number, slot[1]))
        for turn in range(max(len(self._made), ROUNDS) if self._made else 0):
            for place, (change, variant) in enumerate(slots):
                subject = self._subject((turn + place) % len(self._made))
                drill = self._drill(*subject, change, variant, turn // len(self._made)) if subject else None
                if drill and not self._seen.intersection(drill.likeness):
                    self._seen.update(drill.likeness)
                    yield drill

    def _subject(self, place: int) -> tuple[Subject, dict[str, Any]] | None:
        """A request with its answer; both are wanted again and again."""
        if place not in self._subjects:
            subject = self._made[place][1]()
            self._subjects[place] = (subject, self._run(subject.inputs) or {"checks": []}) if subject else None
        return self._subjects[place]

    def _run(self, inputs: dict[str, Any]) -> dict[str, Any] | None:
        try:
            return asking.report(self._data, self._name, inputs, asking.brief if self._name in LONG else calculators.run)
        except InputErrors:
            return None  # a value that contradicts another, or that no form takes, is no question

    def _drill(self, subject: Subject, base: dict[str, Any], change: Change, variant: Any, turn: int) -> Drill | None:
        case = changes.put(change, variant, subject.inputs, Units(self._data.units, rules=self._data.rules), turn)
        result = self._run(case.inputs) if case else None
        if case is None or result is None:
            return None
        wanted = self._balance <= 0
        pairs = sorted(_pairs(base, result, case), key=lambda pair: (_turned(*pair) != wanted, case.checks.index(pair[1]["key"])))
        made = (_made(subject, case, result, old, new) for old, new in pairs if self._sure(case, new))
        return next((drill for drill in made if not self._seen.intersection(drill.likeness)), None)

    def _sure(self, case: Case, check: Check) -> bool:
        """A yes or no bears no tolerance of its own: it must be the same with the new value a little off."""
        if check["margin"] is not None:
            return True
        found = (result for inputs in case.near if (result := self._run(inputs)))
        return all(any(_same(each, check) for each in result["checks"]) for result in found)


Check = dict[str, Any]


def _same(one: Check, other: Check) -> bool:
    return all(one[key] == other[key] for key in ("key", "at", "outcome"))


def _turned(old: Check | None, new: Check) -> bool:
    return bool((old["outcome"] if old else "pass") != new["outcome"])


def _pairs(base: dict[str, Any], result: dict[str, Any], case: Case) -> list[tuple[Check | None, Check]]:
    """The checks that may be asked about, before and after: decided, and moved by the change."""
    before = {(each["key"], each["at"]): each for each in base["checks"]}
    pairs = [(before.get((each["key"], each["at"])), each) for each in result["checks"] if each["key"] in case.checks]
    return [(old, new) for old, new in pairs if decided(new) and (old is None or (decided(old) and old["text"] != new["text"]))
            and (new["outcome"] == "pass" or _todo(new))]  # fmt: skip


def decided(check: Check) -> bool:
    """Whether a check is known, and by more than the measuring and a hair's breadth may hide."""
    if check["outcome"] == "unknown" or check["margin"] is None:
        return bool(check["outcome"] != "unknown")
    return bool(abs(check["margin"]) > max(check["tolerance"], SURE * abs(check["limit"])))


def _todo(check: Check) -> str:
    return str(check["mend"]["text"] if check["mend"] else check["note"] or check["caution"])


def _made(subject: Subject, case: Case, result: dict[str, Any], old: Check | None, new: Check) -> Drill:
    given = f"{subject.told} On the sheet: {old['text']}" if old else subject.told
    return Drill(
        subject, case.happened, case.label, case.was, case.now, given.strip(), case.inputs, (new["key"], new["at"]),
        new["place"], old["outcome"] if old else "", new["outcome"], new["text"], "" if new["outcome"] == "pass" else _todo(new), _working(result, new),
        tuple(dict.fromkeys(new["citations"])),
    )  # fmt: skip


def _working(result: dict[str, Any], check: Check) -> tuple[str, ...]:
    """The steps of the working that give the two numbers the check compares.

    A round number may be another step's by chance, so only a formula's uneven value counts.
    """
    wanted = {value for value in (check["value"], check["limit"]) if value and value != round(value, 2)}
    lines = {}
    for group in result["working"]:
        for step in group["steps"]:
            if step["formula"] and step["value"] in wanted:
                lines[step["value"]] = (f"{step['label']}: {step['symbol']} = {step['formula']} = "
                                        f"{step['substituted']} = {step['printed']}")  # fmt: skip
    return tuple(lines.values())
