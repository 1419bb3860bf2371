"""Days and times of day against the library's own calendar; a long text as a field."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from calculators.core import Day, Log, Moment, forms, moments
from calculators.core.units import Units

FIRST = date.fromisoformat("2000-01-01")
SHOW = Units("si")


def test_every_day_of_a_hundred_years_has_its_number() -> None:
    """There and back, leap years and all; one day more or less is none."""
    for number in range((date.fromisoformat("2099-12-31") - FIRST).days + 1):
        day = FIRST + timedelta(days=number)
        assert moments.day_number(day.year, day.month, day.day) == number
        assert moments.day_text(number) == str(day)
    for wrong in ((1999, 12, 31), (2100, 1, 1), (2026, 2, 29), (2026, 13, 1), (2026, 0, 1), (2026, 4, 31), (2026, 4, 0)):
        assert moments.day_number(*wrong) is None, wrong


@pytest.mark.parametrize(("text", "wanted"), [
    ("2026-11-28 14:30", "2026-11-28 14:30"), ("2026-11-28T14:30", "2026-11-28 14:30"), (" 2026-11-28 09:05:59 ", "2026-11-28 09:05"),
    ("2026-11-28", None), ("2026-11-28 24:00", None), ("2026-11-28 14:60", None), ("28/11/2026 14:30", None), ("14:30", None),
])  # fmt: skip
def test_a_moment_is_written_year_first(text: str, wanted: str | None) -> None:
    found = moments.read_moment(text)
    assert (None if found is None else moments.moment_text(found)) == wanted


def test_a_field_reads_what_it_prints_and_refuses_the_rest_in_words() -> None:
    """Both ends as its sentence names them."""
    for field, texts in ((Day("Day"), ("2000-01-01", "2099-12-31")), (Moment("Now"), ("2000-01-01 00:00", "2099-12-31 23:59"))):
        assert [field.shown(end, SHOW) for end in (field.least, field.most)] == list(texts)
        assert [field.read(text, "us") for text in texts] == [field.least, field.most]
        for wrong in ("x", 5, None, True, "2100-01-01", "2100-01-01 00:00"):
            with pytest.raises(ValueError, match=r"year first and lie between"):
                field.read(wrong, "us")
    assert (Day("Day").shown(None, SHOW), Day("Day", default=0).assumed(SHOW), Day("Day", example=1).sample(SHOW)) == (
        "", "2000-01-01", "2000-01-02")  # fmt: skip


def test_a_form_asks_for_a_day_by_the_browser_s_calendar() -> None:
    """With a T between day and time, as the calendar wants it."""
    day = forms.control(Day("Day"), "2026-11-28", SHOW, "i", "p")
    assert 'type="date"' in day
    assert 'value="2026-11-28"' in day
    assert 'type="datetime-local" id="i" name="p" value="2026-11-28T14:30"' in forms.control(Moment("Now"), "2026-11-28 14:30", SHOW, "i", "p")


def test_a_long_text_keeps_its_lines() -> None:
    """Blank lines at its ends are left out, quotes and brackets stay in the box as they are."""
    field = Log("Log", most=3)
    assert field.read("\n a,1\nb <2>\n\n", "si") == "a,1\nb <2>"
    for wrong in (5, None, ["a"], "x" * 2_000_001):
        with pytest.raises(ValueError, match="at most 3 of them"):
            field.read(wrong, "si")
    box = forms.control(field, "a\nb <2>", SHOW, "i", "p")
    assert '<textarea id="i" name="p"' in box
    assert ">\na\nb &lt;2&gt;</textarea>" in box
