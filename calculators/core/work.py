"""The working sheet a calculator fills: givens, steps, checks, values, tables, figures.

Unknown travels by itself: a step whose formula meets an unknown symbol gives None, and a
check of None is unknown and names what would have to be measured.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

from . import formula as formulas
from .fields import Choice, Field, Money, Quantity, Record, Rows
from .report import Check, Mend, Section, Step, Table, Value
from .rules import Rule, RuleSet
from .units import Units

if TYPE_CHECKING:
    from .calculator import Calculator

Number = float | None
Asked = TypeVar("Asked", bound=Record)


class Work:
    """Collects what one run works out; see the module's first lines for unknowns.

    ``again`` marks a run that only asks what a blank may hide: its checks alone are looked at, so
    that figures, tables and mends may be left out of it.
    """

    def __init__(
        self, calculator: Calculator, inputs: Record, rules: RuleSet, show: Units, *, again: bool = False
    ) -> None:
        self.again = again
        self.calculator = calculator
        self.inputs = inputs
        self.show = show
        self.sections: list[Section] = []
        self.checks: list[Check] = []
        self.values: list[Value] = []
        self.tables: list[Table] = []
        self.figures: list[str] = []
        self.actions: list[str] = []
        self.not_checked: list[str] = list(calculator.not_checked)
        self.used: dict[str, Rule] = {}
        self.rules = rules.noting(self.used)
        self.missing: dict[str, None] = {}
        self._globals: dict[str, tuple[Number, str]] = {}
        self._locals: dict[str, tuple[Number, str]] = {}

    # -- working ---------------------------------------------------------------------

    def section(self, title: str) -> None:
        """Begin a titled group; symbols named in it are forgotten when the next begins."""
        self.sections.append(Section(title))
        self._locals = {}

    def share(self, *symbols: str) -> None:
        """Keep symbols of this group for all later groups."""
        for symbol in symbols:
            self._globals[symbol] = self._locals[symbol]

    def given(self, symbol: str, label: str, value: Number, kind: str, note: str = "") -> Number:
        """Name a value that is not worked out: an input, or one found by search."""
        return self._record(Step(symbol, label, kind, value or 0.0, note=note), value)

    def take(self, path: str, symbol: str = "", label: str = "") -> Number:
        """Name an input by its path, with its own symbol and label unless told otherwise."""
        field, value = self.find(path)
        name = symbol or field.symbol
        return self.given(name, label or field.label, value, field.kind)

    def rule(self, symbol: str, key: str) -> Number:
        """Name a figure of the rule set; None where the set has none."""
        figure = self.rule_of(key)
        if figure is None:
            self._name(symbol, None, "ratio")
            return None
        step = Step(symbol, figure.label, figure.kind or "ratio", figure.inner, rule=figure)
        return self._record(step, step.value)

    def step(
        self, symbol: str, label: str, formula: str, kind: str, *, rule: str = "", note: str = ""
    ) -> Number:
        """Work out one line; ``rule`` names the figure or clause it follows."""
        numbers = {name: self._look(name) for name in formulas.symbols(formula)}
        known = {name: value for name, (value, _) in numbers.items() if value is not None}
        if len(known) < len(numbers):
            self._name(symbol, None, kind)
            return None
        value = formulas.evaluate(formula, known)
        kinds = {name: (known[name], kind_) for name, (_, kind_) in numbers.items()}
        source = self.rule_of(rule) if rule else None
        return self._record(Step(symbol, label, kind, value, formula, kinds, source, note), value)

    def _record(self, step: Step, value: Number) -> Number:
        self._name(step.symbol, value, step.kind)
        if value is not None:
            if not self.sections:
                self.section("Working")
                self._name(step.symbol, value, step.kind)
            self.sections[-1].steps.append(step)
        return value

    def _name(self, symbol: str, value: Number, kind: str) -> None:
        if len(self.sections) <= 1:
            self._globals[symbol] = (value, kind)
        self._locals[symbol] = (value, kind)

    def _look(self, symbol: str) -> tuple[Number, str]:
        if symbol in self._locals:
            return self._locals[symbol]
        return self._globals[symbol]

    # -- rules and inputs ------------------------------------------------------------

    def asked(self, kind: type[Asked]) -> Asked:
        """The inputs as the record that the calculator asks for; TypeError where they are another's."""
        if not isinstance(self.inputs, kind):
            raise TypeError(f"{type(self.inputs).__name__} is not {kind.__name__}")
        return self.inputs

    def rule_of(self, key: str) -> Rule | None:
        """The figure of that key, noted as used; a missing one is noted as missing."""
        figure = self.rules.get(key)
        if figure is None:
            self.missing[key] = None
        else:
            self.used[key] = figure
        return figure

    def inner(self, key: str) -> Number:
        """The inner value of a figure, or None."""
        figure = self.rule_of(key)
        return None if figure is None else figure.inner

    def find(self, path: str) -> tuple[Field, Any]:
        """The field and value of an input path such as ``route.2.width``."""
        record, key = self.inputs.at(path)
        return type(record).field(key), getattr(record, key)

    def label_of(self, path: str) -> str:
        """The label of an input path, with the number of its row."""
        field, _ = self.find(path)
        parts = path.split(".")
        if len(parts) == 1:
            return field.label
        rows = type(self.inputs).field(parts[0])
        noun = rows.noun if isinstance(rows, Rows) else parts[0]
        return f"{field.label} ({noun} {int(parts[1]) + 1})"

    def unknown(self, *paths: str) -> tuple[str, ...]:
        """Those of the paths that are not measured; rows of which none is given count too."""
        known = self.inputs.__dict__  # nearly every path is a field of its own
        return tuple(path for path in paths if (known[path] if path in known else self.find(path)[1]) in (None, []))

    def tolerance(self, *paths: str) -> float:
        """The sum of the tolerances of measured inputs (the worst case, not the likely one)."""
        return sum(field.tolerance for field, value in map(self.find, paths) if value is not None)

    # -- checks ----------------------------------------------------------------------

    def check(
        self, key: str, value: Number, limit: Number, *, at: str = "", tolerance: float = 0.0,
        needs: Iterable[str] = (), mend: Mend | None = None, note: str = "",
        instead: str = "",
        rules: Iterable[str] = (), soft: bool | None = None,
    ) -> Check:  # fmt: skip
        """Compare a value with a limit in the sense of the check's own definition.

        ``needs`` are input paths the value rests on; ``tolerance`` is how far it may be off.
        ``note`` is always shown; ``instead`` says what to do and only where the check fails.
        """
        spec = self.calculator.check_spec(key)
        wants = tuple(dict.fromkeys((*spec.rules, *rules)))
        figures = self._figures(wants)
        made = Check(
            key, spec.label, "unknown", "", at, spec.kind, spec.sense, value, limit, None,
            tolerance, figures, self.unknown(*needs), mend, spec.caution, note, wants=wants,
        )  # fmt: skip
        gentle = spec.soft if soft is None else soft
        made.mild = spec.soft and gentle
        if value is not None and limit is not None:
            sign = 1.0 if spec.sense == "at least" else -1.0
            made.margin = sign * (value - limit)
            made.outcome = judge(made.margin, limit, tolerance, gentle)
        made.text, made.spare = self._sentence(made)
        return self._keep(made, instead)

    def verdict(
        self, key: str, ok: bool | None, *, good: str = "", bad: str = "", at: str = "",
        needs: Iterable[str] = (), mend: Mend | None = None, note: str = "",
        instead: str = "",
        rules: Iterable[str] = (), soft: bool | None = None,
    ) -> Check:  # fmt: skip
        """Record a yes-or-no check; ``ok`` of None is unknown."""
        spec = self.calculator.check_spec(key)
        gentle = spec.soft if soft is None else soft
        outcome = "unknown" if ok is None else "pass" if ok else "caution" if gentle else "stop"
        wants = tuple(dict.fromkeys((*spec.rules, *rules)))
        made = Check(
            key, spec.label, outcome, "", at, rules=self._figures(wants),
            needs=self.unknown(*needs), mend=mend, caution=spec.caution, note=note, wants=wants, mild=spec.soft and gentle,
        )  # fmt: skip
        made.text = self._unknown_sentence(made) if ok is None else good if ok else bad
        return self._keep(made, instead)

    def _keep(self, check: Check, instead: str) -> Check:
        if check.outcome == "pass" and any(rule.looser_than for rule in check.rules):
            check.outcome = "caution"
            check.text = f"{check.text} This rests on a figure of our own that is looser than the rule set's."
        if instead and check.outcome in ("stop", "caution"):
            check.note = f"{check.note} {instead}".strip()
        if check.outcome in ("pass", "unknown"):
            check.mend = None
        self.checks.append(check)
        return check

    def _figures(self, keys: Iterable[str]) -> tuple[Rule, ...]:
        found = (self.rule_of(key) for key in dict.fromkeys(keys))
        return tuple(figure for figure in found if figure is not None)

    def _sentence(self, check: Check) -> tuple[str, str]:
        """What stands beside a comparison, and the end of it that says by how much."""
        if check.value is None or check.limit is None or check.margin is None:
            return self._unknown_sentence(check), ""
        up = check.sense == "at least"
        value, limit, spare = self.show.compared(check.value, check.limit, check.kind, up=up)
        if check.margin < 0 and check.outcome != "pass":
            tail = f"{spare} {'short' if up else 'over'}"
        elif check.outcome == "caution":
            off = self.show.off(check.tolerance, check.kind)
            tail = f"{spare} to spare, but the measuring may be {off} off"
        else:
            tail = f"{spare} to spare"
        return f"{value}; {check.sense} {limit} required: {tail}.", tail

    def _unknown_sentence(self, check: Check) -> str:
        lacking = [key for key in check.wants if self.rules.get(key) is None]
        if lacking:
            return f"No figure in this rule set ({', '.join(lacking)})."
        names = ", ".join(self.label_of(path) for path in check.needs)
        return f"Not measured: {names}." if names else "Cannot be told from what is given."

    # -- mends -----------------------------------------------------------------------

    def mend(self, path: str, target: Any, sense: str = "is", *, beyond: float = 0.0,
             how: str = "") -> Mend | None:  # fmt: skip
        """A change of one input that makes a check pass, rounded so that it surely does.

        ``sense`` is "at least", "at most" or "is"; ``beyond`` is the tolerance the margin
        must exceed. None where the field's own range does not reach so far.
        """
        field, _ = self.find(path)
        if target is None:
            return None
        if isinstance(field, Quantity) and sense != "is":
            target = self._mended(field, target, sense, beyond)
            if target is None:
                return None
        shown = field.shown(target, self.show)
        word = field.options.get(shown, shown) if isinstance(field, Choice) else shown
        if isinstance(field, Money):  # a form's box has no sign before it, a sentence needs one
            word = self.show.text(target, "money")
        middle = "" if sense == "is" else f" {sense}"
        text = f"{self.label_of(path)}:{middle} {word}."
        return Mend(f"{how} {text}".strip(), {path: shown})

    def _mended(self, field: Quantity, target: float, sense: str, beyond: float) -> float | None:
        up = sense == "at least"
        whole = field.kind in ("count", "money")
        step = 1.0 if whole else self.show.step(field.kind)
        goal = target + beyond if up else target - beyond
        value = self.show.rounded(goal, "count" if whole else field.kind, "up" if up else "down")
        if beyond and abs(value - goal) < 1e-6 * max(step, 1e-6):
            value += step if up else -step
        least = field.least if field.least is not None else -float("inf")
        most = field.most if field.most is not None else float("inf")
        # A field of money prints whole coins only, and a binary fraction of one is none.
        return (int(value) if whole else value) if least <= value <= most else None

    @staticmethod
    def mends(*parts: Mend | None) -> Mend | None:
        """Several changes to be made together; None where one of them is impossible."""
        known = [part for part in parts if part is not None]
        if not known or len(known) < len(parts):
            return None
        changes = {path: typed for part in known for path, typed in part.changes.items()}
        return Mend(" ".join(part.text for part in known), changes)

    # -- results ---------------------------------------------------------------------

    def value(self, key: str, value: Number, tolerance: float = 0.0) -> None:
        """Give one of the results the calculator declares."""
        spec = self.calculator.value_spec(key)
        self.values.append(
            Value(key, spec.label, spec.symbol, spec.kind, value, tolerance, spec.toward, spec.help, spec.main)
        )

    def table(self, key: str, title: str, columns: Mapping[str, str], rows: list[tuple[str, ...]],
              note: str = "", *, detail: bool = False) -> None:  # fmt: skip
        """Give a table of printed cells, its columns as key → title; a ``detail`` stays folded on screen."""
        self.tables.append(Table(key, title, tuple(columns), tuple(columns.values()), rows, note, detail))

    def figure(self, svg: str) -> None:
        """Give a figure as SVG text (see :mod:`calculators.core.drawing`)."""
        self.figures.append(svg)

    def text(self, value: Number, kind: str, toward: str = "near") -> str:
        """A printed value, or a dash for an unknown one."""
        return "–" if value is None else self.show.text(value, kind, toward)


def judge(margin: float, limit: float, tolerance: float, soft: bool) -> str:
    """The outcome of a margin: pass only where it exceeds what the measuring may hide."""
    # One part in 10⁹ of the limit absorbs binary rounding (0.8 × 20 A against 16 A).
    noise = 1e-9 * max(1.0, abs(limit))
    if margin < -noise:
        return "caution" if soft else "stop"
    if tolerance and margin <= tolerance + noise:
        return "caution"
    return "pass"
