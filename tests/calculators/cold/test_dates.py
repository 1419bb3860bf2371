"""Days and dates of lots: what freezing and thawing make of them, and days that cannot all be true."""

from __future__ import annotations

from typing import Any

import pytest

from calculators.core import InputErrors

from . import ask
from .ask import outcome, run
from .test_checks import each_set

LONG_IN = {"put_in": "2026-11-18 06:00", "log": None}
THAWED = {"name": "Burrito", "dated": "pack", "date": "2027-06-30", "state": "thawed", "frozen": "2026-10-01", "thawed": "2026-11-22"}


def fields(**changes: Any) -> list[str]:
    """The fields of the errors of the plain case with changes."""
    with pytest.raises(InputErrors) as caught:
        run(**changes)
    assert all(error.mend or error.limit for error in caught.value.errors)
    return [error.field for error in caught.value.errors]


# -- packs that have thawed -------------------------------------------------------------------------


@each_set
@pytest.mark.parametrize("kind", ["use_by", "best_before"])
def test_a_pack_that_has_thawed_counts_the_days_that_it_gives_itself_after_thawing(rules: str, kind: str) -> None:
    """Thawed on the 22nd, the 28th is day 7; the date that it had while frozen lets nothing through."""
    for keeps, wanted in (("8 days", "pass"), ("7 days", "pass"), ("6 days", "stop"), (None, "unknown")):
        result = run(rules, lots=[{**THAWED, "date_kind": kind, "keeps": keeps}])
        assert ask.check(result, "thawed")["outcome"] == result["outcome"] == wanted, keeps
        assert ask.check(result, "date")["outcome"] == "pass"
    assert "The pack says how long it keeps after thawing" in ask.check(run(rules, lots=[THAWED]), "thawed")["note"]


def test_a_thawed_pack_is_past_by_whichever_of_its_two_dates_comes_first() -> None:
    """Days left: by the days after thawing, or by its date; not known while one of them is not."""
    def left(**changes: Any) -> float | None:
        return next(each["inner"] for each in run(lots=[{**THAWED, **changes}])["values"] if each["key"] == "left")

    assert (left(keeps="10 days"), left(keeps="10 days", date="2026-11-29"), left()) == (3, 1, None)
    assert outcome("date", lots=[{**THAWED, "keeps": "10 days", "date": "2026-11-27"}]) == "stop"
    assert ask.check(run(lots=[{**THAWED, "thawed": None, "keeps": "400 days"}]), "thawed")["outcome"] == "unknown"


def test_days_after_thawing_are_asked_of_a_pack_that_has_thawed_and_of_nothing_else() -> None:
    for other in ({"state": "never"}, {"dated": "kitchen", "made": "2026-11-21", "frozen": "2026-11-21", "thawed": "2026-11-28"}):
        assert "thawed" not in [check["key"] for check in run(lots=[{**THAWED, **other}])["checks"]]


# -- frozen and not ---------------------------------------------------------------------------------


@pytest.mark.parametrize("dated", [{"dated": "kitchen", "made": "2026-11-01"}, {"dated": "pack", "date": "2027-06-30"}, {}])
def test_nothing_is_frozen_now_in_a_chilled_cabinet(dated: dict[str, str]) -> None:
    """Its days would stand still for as long as nobody corrects it."""
    assert fields(lots=[{**dated, "state": "frozen", "frozen": "2026-11-02"}]) == ["cooling", "lots.0.state"]
    assert outcome("refrozen", cooling="frozen", lots=[{**dated, "state": "frozen", "frozen": "2026-11-02"}]) == "pass"


@each_set
def test_what_has_thawed_is_frozen_again_by_a_cabinet_that_freezes(rules: str) -> None:
    lot = {"dated": "kitchen", "made": "2026-11-26", "state": "thawed", "frozen": "2026-11-26", "thawed": "2026-11-28"}
    frozen = {"hard": "yes", "log": ask.log([-20] * 13), "lots": [lot]}
    wanted = {"frozen": "stop", "chilled": "pass", None: "unknown"}
    for cooling, outcome_ in wanted.items():
        changes = {**frozen, "cooling": cooling, "log": None}
        assert outcome("refrozen", rules, **changes) == outcome_, cooling


# -- when it went in --------------------------------------------------------------------------------


def test_food_that_went_in_before_any_of_it_was_made_is_an_error_at_both() -> None:
    """Of one lot of two it may have come later; a pack tells no first day, unless it thawed."""
    young = {"dated": "kitchen", "made": "2026-11-27"}
    assert fields(**LONG_IN, lots=[young]) == ["put_in", "lots.0.made"]
    assert fields(**LONG_IN, lots=[{**young, "made": "2026-11-28"}, young]) == ["put_in", "lots.1.made"]
    assert fields(**LONG_IN, lots=[{**THAWED, "keeps": "9 days"}]) == ["put_in", "lots.0.thawed"]
    frozen_first = {**young, "made": "2026-11-10", "state": "thawed", "frozen": "2026-11-10", "thawed": "2026-11-26"}
    assert fields(**LONG_IN, lots=[frozen_first]) == ["put_in", "lots.0.thawed"]
    for lots in ([young, {"dated": "kitchen", "made": "2026-11-18"}], [young, {"dated": "pack", "date": "2026-12-20"}], [young, {}]):
        run(**LONG_IN, lots=lots)
    run(put_in="2026-11-27 00:00", log=None, lots=[young])
