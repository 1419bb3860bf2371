"""Every figure of a rule set says where it comes from and how far to trust it."""

from __future__ import annotations

import math

import pytest

from calculators.core import rules, units

FIGURES = [(name, rule) for name in rules.RULE_SETS for rule in rules.load(name).figures.values()]


@pytest.mark.parametrize(("name", "rule"), FIGURES, ids=[f"{name}:{rule.key}" for name, rule in FIGURES])
def test_a_figure_is_whole(name: str, rule: rules.Rule) -> None:
    """A label; a known status; a clause and source, or openly none; a unit its kind knows."""
    assert rule.label
    assert rule.value is not None
    assert rule.status in rules.STATUSES
    if rule.status in ("published", "reprinted"):
        assert rule.source, "a published figure names its source"
        assert rule.clause, "a published figure names its clause"
    if rule.status == "common practice":
        assert not rule.source, "common practice has no source"
    if rule.kind:
        shown = units.Units("si").number(rule.inner, rule.kind)
        assert math.isfinite(shown)
        # The unit belongs to the kind, and turning it there and back loses nothing.
        assert units.to_inner(shown, units.Units("si").unit(rule.kind), rule.kind) == pytest.approx(
            rule.inner, rel=1e-12
        )


def test_an_operator_s_figure_takes_the_place_of_the_rule() -> None:
    """The value and status change; the rule set itself does not."""
    base = rules.load("us")
    key = next(iter(base.figures))
    changed = base.with_local({key: {"value": 7, "unit": base[key].unit, "kind": base[key].kind}})
    assert changed[key].status == "this operator's rule"
    assert changed[key].value == 7
    assert base[key].status != "this operator's rule"


def test_there_is_no_such_rule_set() -> None:
    """An unknown set is refused by name."""
    with pytest.raises(KeyError, match="atlantis"):
        rules.load("atlantis")
