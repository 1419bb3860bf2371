"""A calculator's one definition, and the run that everything else is made from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict, dataclass, field
from functools import cached_property
from typing import Any

from . import rules as rule_sets
from . import whole
from .bounds import Bounds, Filling
from .errors import Contradiction, InputError, InputErrors
from .fields import Log, Quantity, Record, Rows, is_unknown
from .formula import printed, substituted
from .own import with_own
from .progress import Early, Run, Steps, finish
from .reading import read_record
from .report import OUTCOME_SIGNS, OUTCOME_WORDS, Check, Step, Value, deciding, overall
from .rules import Rule
from .units import SYSTEMS, Units
from .work import Work


@dataclass(frozen=True)
class ValueSpec:
    """A result a calculator promises; ``toward`` is the safe way to round it, ``main`` marks the few asked for most."""

    key: str
    label: str
    kind: str
    symbol: str = ""
    help: str = ""
    toward: str = "near"
    main: bool = False


@dataclass(frozen=True)
class CheckSpec:
    """A check a calculator makes, and the rule keys it needs; ``soft`` fails to caution.

    ``families`` are beginnings of keys of which it needs one, by size, voltage and the like.
    """

    key: str
    label: str
    kind: str = ""
    sense: str = "at least"
    rules: tuple[str, ...] = ()
    help: str = ""
    caution: str = ""
    soft: bool = False
    families: tuple[str, ...] = ()


@dataclass(frozen=True)
class Calculator:
    """Typed inputs, a pure function, typed results: the one definition.

    ``solve(inputs, work)`` fills the working sheet; where it may take long it is a generator of
    :class:`~calculators.core.progress.Progress`. ``example`` is a set of inputs as a
    person would type them in ``example_units``. ``probe`` allows a run to be repeated to
    find what a blank cannot change and the measurement that decides; slow calculators turn it
    off. ``glance`` is a ``solve`` that comes soon and is less exact: who asks for it gets its answer
    before that of ``solve``, or in its place where it returns True. ``finish(inputs, work)`` may add to the sheet what needs further runs; it is not called
    for repeated runs. ``contradictions(inputs, units)`` gives inputs that cannot all be true.
    ``set_examples`` are the examples, in metric units, of rule sets for which the ordinary one
    does not fit.
    """

    name: str
    title: str
    question: str
    summary: str
    inputs: type[Record]
    values: tuple[ValueSpec, ...]
    checks: tuple[CheckSpec, ...]
    solve: Callable[[Any, Work], Steps[Any] | None]
    example: Mapping[str, Any]
    caution: str = ""
    not_checked: tuple[str, ...] = ()
    example_units: str = "us"
    probe: bool = True
    glance: Callable[[Any, Work], Steps[bool]] | None = None
    finish: Callable[[Any, Work], None] | None = None
    contradictions: Callable[[Any, Units], Iterable[Contradiction]] | None = None
    version: str = "1"
    examples: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    set_examples: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    def example_in(self, rules: str) -> tuple[Mapping[str, Any], str]:
        """The example for a rule set by its short name, and the unit system of its numbers."""
        if rules in self.set_examples:
            return self.set_examples[rules], "si"
        return self.example, self.example_units

    def example_for(self, rules: str, units: str) -> dict[str, Any]:
        """The example for a rule set as a person of a unit system would have typed it."""
        example, typed = self.example_in(rules)
        return dict(example) if typed == units else _retyped(self.inputs, example, typed, Units(units))

    def check_spec(self, key: str) -> CheckSpec:
        """The declaration of a check."""
        return self._checks_by_key[key]

    def value_spec(self, key: str) -> ValueSpec:
        """The declaration of a result."""
        return self._values_by_key[key]

    @cached_property
    def _checks_by_key(self) -> dict[str, CheckSpec]:
        return {spec.key: spec for spec in self.checks}

    @cached_property
    def _values_by_key(self) -> dict[str, ValueSpec]:
        return {spec.key: spec for spec in self.values}

    def run(self, request: Mapping[str, Any]) -> dict[str, Any]:
        """Work out one request.

        ``request`` holds ``inputs`` (key → value), and optionally ``units`` ("us" or "si",
        for printing), ``typed`` (the system of bare numbers, by default the same),
        ``rules`` (a rule set's short name), ``local`` (an operator's own figures) and ``early``
        (whether :meth:`steps` is to tell a first answer, where the calculator has one).
        Returns plain data. Raises :class:`InputErrors` with every bad input at once.
        """
        return finish(self.steps(request))

    def steps(self, request: Mapping[str, Any]) -> Run:
        """:meth:`run` bit by bit: yields how far it is; sent True, it ends with what it has."""
        setting = read_setting(request)
        inputs = read_record(self.inputs, request.get("inputs") or {}, setting.typed)
        self._agree(inputs, request.get("inputs") or {}, setting)
        if request.get("early") and self.glance:
            work = Work(self, inputs, setting.rules, setting.show)
            if (yield from self.glance(inputs, work)):
                return self._finished(work, inputs, setting)
            yield Early({**self._finished(work, inputs, setting), "early": True})
        return self._finished((yield from self._solving(inputs, setting)), inputs, setting)

    def _finished(self, work: Work, inputs: Record, setting: Setting) -> dict[str, Any]:
        """The report of a filled sheet."""
        bounds = Bounds(work, lambda filling: self._filled(inputs, filling, setting),
                        lambda filling: self._agrees(inputs, filling, setting))  # fmt: skip
        if self.probe:
            bounds.settle()
        if self.finish:
            self.finish(inputs, work)
        return self._report(work, inputs, setting, bounds)

    def _agree(self, inputs: Record, raw: Mapping[str, Any], setting: Setting) -> None:
        """Refuse inputs that contradict each other; every one of them is named."""
        if self.contradictions is None:
            return
        sheet = Work(self, inputs, setting.rules, setting.show)
        errors = tuple(
            InputError(path, sheet.label_of(path), _raw(raw, path), found.text, "")
            for found in self.contradictions(inputs, setting.show) for path in found.paths
        )  # fmt: skip
        if errors:
            raise InputErrors(errors)

    def _agrees(self, inputs: Record, filling: Filling, setting: Setting) -> bool:
        """Whether a filling of blanks contradicts nothing that is given."""
        found = () if self.contradictions is None else self.contradictions(inputs.changed(filling), setting.show)
        return not any(found)

    def _filled(self, inputs: Record, filling: Filling, setting: Setting) -> Work:
        """The sheet with some blanks filled in."""
        return finish(self._solving(inputs.changed(filling), setting, again=True))

    def _solving(self, inputs: Record, setting: Setting, *, again: bool = False) -> Steps[Work]:
        work = Work(self, inputs, setting.rules, setting.show, again=again)
        steps = self.solve(inputs, work)
        if steps is not None:
            yield from steps
        return work

    def _report(self, work: Work, inputs: Record, setting: Setting, bounds: Bounds) -> dict[str, Any]:
        show = setting.show
        looser = [rule for rule in work.used.values() if rule.looser_than]
        more = ["caution" for _ in looser[:1]]
        outcome = overall(work.checks, more)
        together = whole.decide(bounds, more) if self.probe and outcome == "unknown" else None
        outcome = together.outcome if together else outcome
        decisive = None if together else deciding(work.checks, outcome)
        # Where it is go whatever the blanks hold, there is nothing left to measure.
        next_path = None if outcome == "pass" else self._next_measurement(work, bounds)
        return {
            "calculator": self.name, "title": self.title, "version": self.version,
            "units": show.system, "rules": setting.rules.name, "rules_title": setting.rules.title,
            "local": sorted(key for key, rule in work.used.items()
                            if rule.status == rule_sets.OWN),
            "looser": [_looser(rule) for rule in looser],
            "outcome": outcome, "word": OUTCOME_WORDS[outcome], "sign": OUTCOME_SIGNS[outcome],
            **_headline(outcome, decisive, together.text if together else "Nothing could be checked yet."),
            "tightest": None if decisive is None else work.checks.index(decisive),
            "caution": self.caution, "actions": _actions(work, next_path),
            "values": [_value_dict(value, show) for value in work.values],
            "checks": [_check_dict(check, work) for check in work.checks],
            "tables": [table.told() for table in work.tables],
            "working": [{"title": section.title,
                         "steps": [_step_dict(step, show) for step in section.steps]}
                        for section in work.sections if section.steps],
            "sources": [rule.to_dict() for rule in work.used.values()],
            "missing_rules": list(work.missing),
            "assumed": _assumed(inputs, show, setting.rules), "not_checked": work.not_checked,
            "measure_next": _measure_next(work, next_path),
            "figures": work.figures,
            "inputs": _without_logs(self.inputs, self.inputs.shown(inputs.values(), show)),
        }  # fmt: skip

    def _next_measurement(self, work: Work, bounds: Bounds) -> str | None:
        """The unknown whose range flips a check, or the first one where none does."""
        if self.probe:
            return bounds.decisive()
        wanted = (path for check in work.checks if check.outcome == "unknown" for path in check.needs)
        return next(wanted, None)

    def describe(self, system: str = "us", rules: rule_sets.RuleSet | None = None) -> dict[str, Any]:
        """The definition as plain data, for ``--describe`` and the docs of a rule set."""
        show = Units(system, rules=rules)
        return {
            "name": self.name, "title": self.title, "question": self.question,
            "summary": self.summary, "units": system, "version": self.version,
            "inputs": [each.describe(show) for each in self.inputs.fields() if each.offered(rules)],
            "results": [{**asdict(spec), "unit": show.unit(spec.kind)} for spec in self.values],
            "checks": [{**asdict(spec), "rules": list(spec.rules)} for spec in self.checks],
            "not_checked": list(self.not_checked), "caution": self.caution,
            "example": {"units": self.example_units, "inputs": dict(self.example)},
            "outcomes": dict(OUTCOME_WORDS),
        }  # fmt: skip


@dataclass(frozen=True)
class Setting:
    """How a run reads and prints: unit systems, rule set."""

    show: Units
    typed: str
    rules: rule_sets.RuleSet


REQUEST_KEYS = ("inputs", "units", "typed", "rules", "local", "html", "early")


def read_setting(request: Mapping[str, Any]) -> Setting:
    """Read all of a request but its inputs; raises :class:`InputErrors`."""
    errors = [InputError(key, str(key), request[key], "There is no such part of a request.",
                         f"Parts: {', '.join(REQUEST_KEYS)}.")
              for key in request if key not in REQUEST_KEYS]  # fmt: skip
    shown, typed = request.get("units") or "us", request.get("typed") or request.get("units") or "us"
    name = request.get("rules") or "us"
    for key, value, known in (("units", shown, SYSTEMS), ("typed", typed, SYSTEMS),
                              ("rules", name, tuple(rule_sets.RULE_SETS))):  # fmt: skip
        if value not in known:
            errors.append(InputError(key, key.capitalize(), value, "",
                                     f"It must be one of: {', '.join(known)}."))  # fmt: skip
    if errors:
        raise InputErrors(tuple(errors))
    rules = with_own(rule_sets.load(name), request.get("local"))
    return Setting(Units(shown, rules=rules), typed, rules)


def _raw(raw: Any, path: str) -> Any:
    """What was typed at a path; None where nothing was."""
    for part in path.split("."):
        raw = raw[int(part)] if isinstance(raw, list) else raw.get(part)
        if raw is None:
            break
    return raw


def _retyped(record: type[Record], typed: Mapping[str, Any], system: str, show: Units) -> dict[str, Any]:
    """Typed inputs with every measure in another unit system; what is no measure stays."""
    made = dict(typed)
    for each in record.fields():
        value = typed.get(each.key)
        if isinstance(each, Rows):
            made[each.key] = [_retyped(each.record, row, system, show) for row in value or ()]
        elif isinstance(each, Quantity) and not is_unknown(value) and _differs(each.kind):
            # A tenth finer than printed: an example that decides by little must not turn.
            made[each.key] = each.shown(show.rounded(each.read(value, system), each.kind, finer=1), show)
    return {key: made[key] for key in typed}


def _differs(kind: str) -> bool:
    return Units("us").unit(kind) != Units("si").unit(kind)


def _without_logs(record: type[Record], typed: dict[str, Any]) -> dict[str, Any]:
    """What a page and a paper get back: ten thousand rows they have already, or have no room for."""
    return {key: value for key, value in typed.items() if not isinstance(record.field(key), Log)}


def _looser(rule: Rule) -> str:
    number = isinstance(rule.value, (int, float))
    own = f"{rule.value} {rule.unit} is".replace("  ", " ") if number else "our own may be"
    return (f"{rule.label}: {own} looser than {rule.looser_than}. "
            f"Reason: {rule.reason}. Decided by: {rule.decided_by}.")  # fmt: skip


def _headline(outcome: str, decisive: Check | None, else_: str) -> dict[str, str]:
    """The first sentence, whole and in parts: ``decides`` says what the word rests on, ``brief`` in few words."""
    word = OUTCOME_WORDS[outcome]
    if decisive is None:
        decides = rest = brief = else_
    else:
        decides = f"{decisive.place} – {decisive.text}"
        rest = f"{'Tightest' if outcome == 'pass' else 'Decides'}: {decides}"
        brief = f"{decisive.place}: {decisive.spare}" if decisive.spare else decides
    return {"headline": f"{word}. {rest}", "after_word": rest, "decides": decides, "brief": brief}


def _actions(work: Work, next_path: str | None) -> list[str]:
    actions = list(work.actions)
    actions += [_looser(rule) for rule in work.used.values() if rule.looser_than]
    for check in sorted(work.checks, key=lambda check: check.outcome != "stop"):
        if check.outcome in ("stop", "caution"):
            mend = check.mend.text if check.mend else check.note
            actions.append(f"{check.place}: {mend or check.text}")
    if next_path:
        actions.append(f"Measure next: {work.label_of(next_path)}.")
    return list(dict.fromkeys(actions))


def _measure_next(work: Work, path: str | None) -> dict[str, str] | None:
    if path is None:
        return None
    return {"field": path, "label": work.label_of(path), "help": work.find(path)[0].help}


def _assumed(inputs: Record, show: Units, rules: rule_sets.RuleSet) -> list[dict[str, str]]:
    return [
        {"field": each.key, "label": each.label, "text": each.assumed(show)}
        for each in inputs.fields()
        if each.default is not None and each.key not in inputs.given
        and each.offered(rules) and not isinstance(each, Rows)
    ]


def _value_dict(value: Value, show: Units) -> dict[str, Any]:
    known = value.value is not None
    return {
        "key": value.key, "label": value.label, "symbol": value.symbol, "main": value.main, "kind": value.kind,
        "unit": show.unit(value.kind), "inner": value.value, "help": value.help,
        "value": show.number(value.value, value.kind) if value.value is not None else None,
        "text": show.text(value.value, value.kind, value.toward) if value.value is not None else "–",
        "tolerance": show.off(value.tolerance, value.kind)
        if known and value.tolerance else "",
    }  # fmt: skip


def _check_dict(check: Check, work: Work) -> dict[str, Any]:
    show = work.show
    numbers = {
        name: None if getattr(check, name) is None or not check.kind
        else show.number(getattr(check, name), check.kind)
        for name in ("value", "limit")
    }  # fmt: skip
    step = show.inner_step(check.kind) if check.kind else 1.0
    margin = None if check.margin is None else check.margin / step
    return {
        "key": check.key, "label": check.label, "at": check.at, "place": check.place,
        "outcome": check.outcome, "word": OUTCOME_WORDS[check.outcome], "text": check.text,
        "sense": check.sense, "unit": show.unit(check.kind) if check.kind else "", **numbers,
        "margin": margin, "tolerance": check.tolerance / step, "rules": [rule.key for rule in check.rules],
        "citations": [rule.citation for rule in check.rules], "spare": check.spare,
        "needs": list(check.needs), "needs_labels": [work.label_of(path) for path in check.needs],
        "mend": None if check.mend is None else asdict(check.mend),
        "caution": check.caution, "note": check.note,
    }  # fmt: skip


def _step_dict(step: Step, show: Units) -> dict[str, Any]:
    shown = {name: show.precise(value, kind) for name, (value, kind) in step.numbers.items()}
    return {
        "symbol": step.symbol, "label": step.label, "note": step.note,
        "formula": printed(step.formula),
        "substituted": substituted(step.formula, shown) if step.formula else "",
        "numbers": {name: show.number(value, kind)
                    for name, (value, kind) in step.numbers.items()},
        "value": show.number(step.value, step.kind), "kind": step.kind,
        "unit": show.unit(step.kind), "printed": show.precise(step.value, step.kind),
        "citation": step.rule.citation if step.rule else "",
        "rule": step.rule.key if step.rule else "",
    }  # fmt: skip
