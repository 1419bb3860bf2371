"""Rule sets: every number of a rule, with its clause, edition and status.

A rule set is a folder of TOML files under ``calculators/rules``; a figure's key is
``FILE.NAME``, for example ``space.rear_gap``. Calculators ask for figures by key and
never hold a rule's number themselves.
"""

from __future__ import annotations

import functools
import json
import pkgutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from . import units

OWN = "this operator's rule"
STATUSES = {
    "published": "seen in the source itself",
    "reprinted": "seen in a page that reprints or teaches the source",
    "from memory": "from memory, to be confirmed before you rely on it",
    "worked out here": "worked out here from published figures",
    "common practice": "what the trade does; no source",
    OWN: "set by this operator in place of, or beside, the rule set",
}
RULE_SETS = {
    "us": "United States",
    "ca": "Canada",
    "uk": "United Kingdom",
    "eu": "European Union",
    "au": "Australia and New Zealand",
}
# Figures that hold in every country, such as threads, sizes of cans and the trade's own practice.
COMMON = "common"
SUBJECTS = (
    "space", "floor", "circuit", "conductors", "outlet", "level", "coins", "handling", "delivery",
    "goods", "food", "refrigerant", "upkeep", "standing", "energy",
)  # fmt: skip


@dataclass(frozen=True)
class Rule:
    """One figure: its value in its published unit, and where it comes from."""

    key: str
    value: Any
    label: str
    unit: str = ""
    kind: str = ""
    clause: str = ""
    source: str = ""
    edition: str = ""
    status: str = "from memory"
    note: str = ""
    rule_set: str = ""
    # Of an operator's own figure only: see calculators.core.own.
    looser_than: str = ""
    reason: str = ""
    decided_by: str = ""

    @property
    def inner(self) -> float:
        """The value in the inner unit of its kind."""
        return units.to_inner(self.value, self.unit, self.kind) if self.kind else self.value

    @property
    def citation(self) -> str:
        """Clause, source, edition and status as one line."""
        where = " ".join(part for part in (self.source, self.clause) if part)
        edition = f", {self.edition}" if self.edition else ""
        return f"{where}{edition} ({self.status})" if where else self.status

    def to_dict(self) -> dict[str, Any]:
        """The figure for JSON."""
        return {name: getattr(self, name) for name in self.__dataclass_fields__} | {
            "citation": self.citation
        }


class Figures(Mapping[str, Rule]):
    """All figures of a set; a subject's file is read when one of its figures is first asked for.

    A page needs a few subjects, and reading all of them would hold up its first result.
    """

    def __init__(self, name: str) -> None:
        self._name = name
        self._read: dict[str, dict[str, Rule]] = {}

    def _of(self, subject: str) -> dict[str, Rule]:
        found = self._read.get(subject)
        if found is None:
            # A set's own figure stands in place of the common one.
            found = {} if subject not in SUBJECTS else {
                **_read_subject(COMMON, subject), **_read_subject(self._name, subject)
            }  # fmt: skip
            self._read[subject] = found
        return found

    def __getitem__(self, key: str) -> Rule:
        return self._of(key.partition(".")[0])[key]

    def get(self, key: str, default: Any = None) -> Any:
        """As of any mapping, without the exception that a missing key would raise on the way."""
        return self._of(key.partition(".")[0]).get(key, default)

    def __iter__(self) -> Iterator[str]:
        for subject in SUBJECTS:
            yield from self._of(subject)

    def __len__(self) -> int:
        return sum(len(self._of(subject)) for subject in SUBJECTS)


class _Noting(Mapping[str, Rule]):
    """Figures, and which of the looser ones among them were asked for."""

    def __init__(self, figures: Mapping[str, Rule], looser: frozenset[str], used: dict[str, Rule]) -> None:
        self._figures, self._looser, self._used = figures, looser, used

    def __getitem__(self, key: str) -> Rule:
        found = self._figures[key]
        if key in self._looser:
            self._used[key] = found
        return found

    def __contains__(self, key: object) -> bool:
        return self.get(str(key)) is not None

    def __iter__(self) -> Iterator[str]:
        return iter(self._figures)

    def __len__(self) -> int:
        return len(self._figures)


class RuleSet:
    """The figures of one jurisdiction; ``rules[key]`` or ``rules.get(key)``."""

    def __init__(self, name: str, figures: Mapping[str, Rule]) -> None:
        self.name = name
        self.title = RULE_SETS.get(name, name)
        self.figures = figures
        # The operator's own ones that are looser, or may be, than what they stand in for.
        self.looser: frozenset[str] = frozenset()

    def __getitem__(self, key: str) -> Rule:
        return self.figures[key]

    def get(self, key: str) -> Rule | None:
        """The figure, or None where this rule set has none."""
        return self.figures.get(key)

    def local(self) -> dict[str, dict[str, Any]]:
        """The operator's own figures, as :meth:`with_local` and a request's ``local`` take them."""
        return {
            key: {part: getattr(rule, part)
                  for part in ("value", "unit", "kind", "label", "note", "reason", "decided_by")}
            for key, rule in self.figures.items()
            if rule.status == OWN
        }  # fmt: skip

    def with_local(self, local: dict[str, dict[str, Any]]) -> RuleSet:
        """A copy in which an operator's own figures, already checked, replace or add to these."""
        if not local:
            return self
        figures = dict(self.figures)
        for key, facts in local.items():
            base = figures.get(key) or Rule(key=key, value=None, label=key)
            figures[key] = replace(base, **{**facts, "status": OWN, "clause": "", "source": "",
                                            "edition": ""})  # fmt: skip
        made = RuleSet(self.name, figures)
        made.looser = frozenset(key for key in local if figures[key].looser_than)
        return made

    def noting(self, used: dict[str, Rule]) -> RuleSet:
        """These figures; whoever asks for one that may be looser, in whatever way, is told in ``used`` to rest on it."""
        return RuleSet(self.name, _Noting(self.figures, self.looser, used)) if self.looser else self


@functools.cache
def load(name: str) -> RuleSet:
    """Read a rule set by its short name; KeyError where there is none."""
    if name not in RULE_SETS:
        raise KeyError(name)
    return RuleSet(name, Figures(name))


def _read_subject(name: str, subject: str) -> dict[str, Rule]:
    table = _table(name, subject)
    sources = table.pop("sources", {})
    return {
        f"{subject}.{key}": _figure(f"{subject}.{key}", facts, sources, name)
        for key, facts in table.items()
    }


def _table(name: str, subject: str) -> dict[str, Any]:
    """A subject's file; the copy packed for the browser is JSON, which it reads far faster."""
    for ending in ("json", "toml"):
        # pkgutil, because in the browser the package is imported from a zip.
        try:
            data = pkgutil.get_data("calculators.rules", f"{name}/{subject}.{ending}")
        except OSError:
            continue
        return dict(json.loads(data or b"{}") if ending == "json" else _toml(data or b""))
    return {}


def _toml(data: bytes) -> dict[str, Any]:
    import tomllib  # not wanted in the browser, where importing it would cost the reader time

    return tomllib.loads(data.decode())


def _figure(key: str, facts: dict[str, Any], sources: dict[str, Any], name: str) -> Rule:
    facts = dict(facts)
    source = sources.get(facts.pop("source", ""), {})
    status = facts.get("status", "from memory")
    if status not in STATUSES:
        raise ValueError(f"{name}: {key}: unknown status {status!r}")
    title, edition = source.get("title", ""), facts.pop("edition", source.get("edition", ""))
    return Rule(key=key, source=title, edition=edition, rule_set=name, **facts)
