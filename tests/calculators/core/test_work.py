"""The frame itself, on a calculator small enough to check by hand."""

from __future__ import annotations

from typing import Any

import pytest

import calculators
from calculators.core import (
    Calculator,
    CheckSpec,
    Choice,
    InputErrors,
    Money,
    Quantity,
    Record,
    Rows,
    ValueSpec,
    Work,
    forms,
    html,
    rules,
)  # fmt: skip
from calculators.core.units import Units
from calculators.core.work import judge


class Leg(Record):
    """One doorway."""

    width = Quantity("Clear width", kind="length", symbol="c", least=300, most=3000, tolerance=5,
                     example=900)  # fmt: skip
    sort = Choice("What it is", {"door": "Doorway", "hall": "Corridor"})


class Inputs(Record):
    """A box and its way."""

    width = Quantity("Cabinet width", "Across the front", "w", "length", 890, 300, 2000, first=True)
    hand = Quantity("Hand room", kind="length", symbol="h", least=0, most=200, default=25, example=25)
    price = Money("Price", least=1, most=1000)
    route = Rows("Route", Leg, "leg")


def solve(inputs: Any, work: Work) -> None:
    """Each doorway must be wider than the box and a hand each side."""
    work.section("Cabinet")
    work.take("width")
    work.take("hand")
    for number, leg in enumerate(inputs.route):
        path = f"route.{number}.width"
        work.section(f"Leg {number + 1}")
        work.take(path, "c")
        need = work.step("n", "Width wanted", "w + 2*h", "length")
        off = work.tolerance(path)
        work.check("door", leg.width, need, at=f"Leg {number + 1}", tolerance=off,
                   needs=("width", path), mend=work.mend(path, need, "at least", beyond=off),
                   note="As measured.", instead="Take another way.")  # fmt: skip
        work.check("lift", leg.width, work.inner("space.protrusion"), at=f"Leg {number + 1}")
    work.value("need", work.step("n", "Width wanted", "w + 2*h", "length"))


BOX = Calculator(
    "box", "Box", "Will it go?", "", Inputs, (ValueSpec("need", "Width wanted", "length", "n"),),
    (CheckSpec("door", "Doorway width", "length"),
     CheckSpec("lift", "Lift", "length", rules=("space.protrusion",))),
    solve, {"width": "35"},
)  # fmt: skip


def run(**inputs: Any) -> dict[str, Any]:
    # In Europe, where nothing says how far a thing may stand out: a gap in the rule set.
    return BOX.run({"units": "si", "rules": "eu", "inputs": inputs})


@pytest.mark.parametrize(
    ("margin", "tolerance", "soft", "outcome"),
    [(1, 0, False, "pass"), (0, 0, False, "pass"), (-1, 0, False, "stop"), (-1, 0, True, "caution"),
     (4, 5, False, "caution"), (5, 5, False, "caution"), (5.1, 5, False, "pass"),
     (-1e-12, 0, False, "pass")],
)  # fmt: skip
def test_pass_needs_a_margin_beyond_the_tolerance(
    margin: float, tolerance: float, soft: bool, outcome: str
) -> None:
    """A margin that the measuring could hide is a caution."""
    assert judge(margin, 100, tolerance, soft) == outcome


def test_a_check_carries_its_margin_and_a_mend_that_works() -> None:
    """890 + 2·25 = 940: 900 is 40 short; the mend is 946 (5 mm of tape, more than it)."""
    check = run(width=890, route=[{"width": 900}])["checks"][0]
    assert (check["outcome"], check["margin"], check["limit"]) == ("stop", -40, 940)
    assert check["mend"]["changes"] == {"route.0.width": "946 mm"}
    assert run(width=890, route=[{"width": "946 mm"}])["checks"][0]["outcome"] == "pass"
    assert run(width=890, route=[{"width": "945 mm"}])["checks"][0]["outcome"] == "caution"


def test_an_unknown_travels_and_is_named() -> None:
    """A blank width leaves the check unknown; the result asks for it."""
    result = run(route=[{"width": 900}])
    assert result["checks"][0]["outcome"] == "unknown"
    assert result["checks"][0]["needs"] == ["width"]
    assert result["measure_next"]["field"] == "width"
    assert result["values"][0]["value"] is None


def test_a_missing_rule_is_said_and_never_guessed() -> None:
    """The rule set has no such figure: unknown, with the key."""
    check = run(width=890, route=[{"width": 2000}])["checks"][1]
    assert check["outcome"] == "unknown"
    assert "No figure" in check["text"]
    assert "space.protrusion" in check["text"]


def test_an_operator_s_figure_is_used_and_shown() -> None:
    """A local figure fills the gap, and the result says that it is local."""
    local = {"space.protrusion": {"value": 1, "unit": "m", "kind": "length", "label": "Lift"}}
    result = BOX.run({"units": "si", "rules": "eu", "local": local,
                      "inputs": {"width": 890, "route": [{"width": 2000}]}})  # fmt: skip
    assert result["checks"][1]["outcome"] == "pass"
    assert result["local"] == ["space.protrusion"]
    assert "this operator’s own figures" in html.report(BOX, result).lower().replace("'", "’")


def test_every_bad_input_is_told_with_its_place() -> None:
    """Range, comma, unknown key, unknown choice, broken money, bad row: six errors, one answer."""
    with pytest.raises(InputErrors) as caught:
        run(width="9 m", hand="2,5", price="1.255", speed=3, route=[{"width": "x"}, {"sort": "wall"}])
    told = {error.field: error.message for error in caught.value.errors}
    assert set(told) == {"width", "hand", "price", "speed", "route.0.width", "route.1.sort"}
    assert "between 300 mm and 2000 mm" in told["width"]
    assert "comma" in told["hand"]
    assert "whole cents" in told["price"]
    assert "door, hall" in told["route.1.sort"]


@pytest.mark.parametrize(("text", "cents"), [("1.25", 125), ("$1.25", 125), ("75c", 75), (2, 200), ("0.1", 10)])
def test_money_is_exact(text: Any, cents: int) -> None:
    """Whole cents, through no binary fraction."""
    assert Inputs.field("price").read(text, "us") == cents


def test_the_outcome_is_the_worst_check() -> None:
    """One stop among passes stops the whole."""
    result = run(width=890, route=[{"width": 2000}, {"width": 900}])
    assert result["outcome"] == "stop"
    assert result["checks"][result["tightest"]]["at"] == "Leg 2"


def test_what_is_assumed_is_said() -> None:
    """A setting left blank is listed with the value used."""
    assert {"field": "hand", "label": "Hand room", "text": "25 mm"} in run(width=890)["assumed"]


def test_text_from_a_person_is_escaped() -> None:
    """A form never puts a reader's text into the page as markup."""
    shown = forms.form(BOX, {"width": '"><script>x'}, "us", prefix="p")
    assert "<script>" not in shown


def test_the_form_has_a_label_and_a_hint_for_each_control() -> None:
    """Every control is labelled; the unit stands beside it."""
    shown = forms.form(BOX, {"route": [{"width": "36 in"}]}, "us", prefix="p")
    assert '<label for="p-width">' in shown
    assert 'name="route.0.width"' in shown
    assert 'value="36"' in shown, "the unit stands beside the box already"
    assert "Left blank: 1 in." in shown


def test_what_to_do_instead_is_said_only_where_a_check_fails() -> None:
    """A note always stands; advice under a passing check would only confuse."""
    stops, passes = (run(width=890, route=[{"width": width}])["checks"][0] for width in (900, 2000))
    assert stops["note"] == "As measured. Take another way."
    assert passes["note"] == "As measured."


def test_another_calculator_s_record_is_refused() -> None:
    """A sheet gives its inputs as the record that they are, and as no other."""
    one, other = calculators.get("level"), calculators.get("outlet")
    sheet = Work(one, one.inputs(), rules.load("us"), Units("us"))
    assert sheet.asked(one.inputs) is sheet.inputs
    with pytest.raises(TypeError, match="is not"):
        sheet.asked(other.inputs)
