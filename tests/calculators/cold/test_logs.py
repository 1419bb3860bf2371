"""Logs as instruments write them: what is read, what is told with its line, what counts as not known."""

from __future__ import annotations

import random
import re
from datetime import timedelta

import pytest

from calculators.cold import columns, logfile
from calculators.cold.columns import Unreadable
from calculators.core import InputErrors
from calculators.core.moments import moment_text
from tests.support import logs

from . import ask


def read(text: str, order: str = "", scale: str = "") -> list[tuple[str, float]]:
    series = logfile.read(text, order, scale)
    return [(moment_text(at), round(degrees, 3)) for at, degrees in zip(series.times, series.degrees, strict=True)]


def troubles(text: str, **asked: str) -> list[tuple[str, int, bool]]:
    found = logfile.read(text, asked.get("order", ""), asked.get("scale", "c"))
    return [(each.kind, each.row, each.harmless) for each in found.troubles]


ONE = [("2026-11-28 14:30", 4.5)]


@pytest.mark.parametrize("text", [
    "2026-11-28 14:30,4.5 °C", "2026-11-28T14:30:00,4.5°C", "2026-11-28;14:30;4,5 C", "2026-11-28\t14:30\t4,5 °C",
    '"2026-11-28 14:30","4,5 °C"', "time;T (°C)\n2026-11-28 14:30;4,5", "\ufeffday,time,degC\r\n2026-11-28,14:30,4.5\r\n",
    "2026-11-28 2:30 PM,40.1 F", "time,Temperature °F\n2026-11-28 14:30,40.1", "28/11/2026 14:30,4.5 °C", "11/28/2026 2:30 pm,4.5 °C",
    "28.11.2026 14:30;4,5 °C", "28.11.26;14.30;4,5 °C", "Instrument 7\nModel 3\n\nno,date,time,°C\n1,2026-11-28,14:30,4.5",
    "date,time,humidity %,temperature °C\n2026-11-28,14:30,71.0,4.5", "2026/11/28 14:30:00.000,+4.5 °C",
])  # fmt: skip
def test_one_reading_in_many_hands(text: str) -> None:
    """Separators, decimal commas, scales, orders of dates, headings and a byte order mark."""
    assert read(text) == ONE


@pytest.mark.parametrize(("text", "wanted"), [
    ("03/04/2026 14:30,4 °C", "“Dates in the log”"), ("2026-11-28 14:30,4", "“Numbers in the log”"),
    ("28/11/2026 09:00,4 C\n11/28/2026 09:05,4 C", "some the month first"), ("no numbers at all", "No day was found"),
    ("2026-11-28,4.5 °C", "no time"), ("2026-11-28 14:30", "No column of numbers"), ("2026-11-28 14:30,4,5", "several columns"),
    ("time,T1 °C,T2 °C\n2026-11-28 14:30,4,5", "T1 °C, T2 °C"), ("2026-11-28T14:30Z,4 °C", "universal time"),
    ("2026-11-28 14:30+01:00,4 C\n2026-11-28 14:35,4 C", "some do not"), ("2026-11-28 99:30,4 C", "None of its lines"),
    ("\n".join(["2026-11-28 14:30,4 C"] * 10_001), "10000"),
])  # fmt: skip
def test_what_cannot_be_read_says_what_to_do(text: str, wanted: str) -> None:
    """Nothing is guessed; the form gets the sentence at the log."""
    with pytest.raises(Unreadable, match=wanted.replace("(", r"\(")):
        logfile.read(text, "", "")


def test_the_reader_s_own_answer_decides_a_date_and_a_scale() -> None:
    """Asked once, and then every line goes by it."""
    text = "03/04/2026 14:30,40"
    assert read(text, "day", "f") == [("2026-04-03 14:30", pytest.approx(4.444, abs=0.001))]
    assert read(text, "month", "c") == [("2026-03-04 14:30", 40)]


def test_a_log_that_cannot_be_read_is_an_error_at_its_field() -> None:
    """No verdict stands beside it."""
    with pytest.raises(InputErrors) as caught:
        ask.run(log="03/04/2026 14:30,4 °C")
    assert [error.field for error in caught.value.errors] == ["log", "log"]


# -- which column it is -----------------------------------------------------------------------------


@pytest.mark.parametrize("other", [
    "Set temp (°C)", "set_temp °C", "Setpoint °C", "Set-point", "Target °C", "Room °C", "Room temperature (°C)", "Ambient temp °C",
    "Outside °C", "Alarm °C", "Limit °C", "High limit", "Dew point °C", "humidity %", "RH", "Battery V", "No.", "Record #",
])  # fmt: skip
def test_what_its_heading_says_to_be_something_else_is_no_reading(other: str) -> None:
    """Neither before the reading nor after it; and alone it is refused by its name."""
    for head, cells in ((f"time,{other},Cabinet (°C)", "2,12"), (f"time,Cabinet (°C),{other}", "12,2")):
        assert read(f"{head}\n2026-11-28 14:30,{cells}") == [("2026-11-28 14:30", 12)]
    with pytest.raises(Unreadable, match=f"no column is the temperature.*{re.escape(other)}"):
        logfile.read(f"time,{other}\n2026-11-28 14:30,2", "", "c")


@pytest.mark.parametrize("head", [
    "time,temperature (°C),Air", "time,Air,temp °C", "time,Probe 1,Probe 2 °C", "time,min °C,max °C", "time,temperature (°C)", "time,°C,",
])  # fmt: skip
def test_of_two_columns_that_may_be_the_temperature_none_is_taken(head: str) -> None:
    """One that names a degree is no better than one that says nothing: a decimal comma makes such a second column."""
    with pytest.raises(Unreadable, match=r"several columns.*A comma before decimals counts as one"):
        logfile.read(f"{head}\n2026-11-28 14:30,5,9", "", "c")
    with pytest.raises(Unreadable, match=r"several columns.*warmest part\.$"):
        logfile.read(f"{head}\n2026-11-28 14:30,5,9".replace(",", ";"), "", "c")


@pytest.mark.parametrize("head", ["time,temperature (°C)\n", ""])
def test_a_decimal_comma_that_comes_late_is_told_with_its_line(head: str) -> None:
    """Whole numbers for longer than a log is looked at ahead, and then one that is cut in two."""
    whole = [f"2026-11-28 {at // 60:02d}:{at % 60:02d},5" for at in range(60)]
    text = head + "\n".join([*whole, "2026-11-28 01:00,5,9", "2026-11-28 01:01,5", "2026-11-28 01:02,5,", "2026-11-28 01:03,5,ok"])
    assert troubles(text) == [("cut", 61 + bool(head), False)]
    assert len(read(text, scale="c")) == 63


def test_the_reader_s_scale_and_the_heading_s_must_agree() -> None:
    """An error at both, and no verdict; where the heading names none, the reader's holds."""
    for named, said, wanted in (("F", "c", ["log", "log_scale"]), ("C", "f", ["log", "log_scale"]), ("F", "f", []), ("C", "c", []),
                                ("", "c", [])):  # fmt: skip
        text = ask.log([40 if named == "F" else 2] * 13).replace("(°C)", f"(°{named})" if named else "")
        if not wanted:
            assert ask.run(log=text, log_scale=said)["outcome"] == ("caution" if named == "F" else "pass")
            continue
        with pytest.raises(InputErrors) as caught:
            ask.run(log=text, log_scale=said)
        assert [error.field for error in caught.value.errors] == wanted
        assert f"°{named}" in caught.value.errors[0].message


# -- broken logs: each is told with its line, and counts against the food ---------------------------


@pytest.mark.parametrize("cell", ["#N/A", "---", "", "NaN", "ERR", "85.0", "-127", "inf"])
def test_an_error_value_is_told_and_what_lies_about_it_is_not_known(cell: str) -> None:
    """The reading before it to the one after it: an hour here."""
    result = ask.run(log=ask.log(ask.with_at({5: cell})))
    assert [row[0] for row in ask.rows(result, "log")] == ["line 7"]
    assert ask.rows(result, "silent") == [["2026-11-28 08:00", "2026-11-28 09:00", "60 min"]]
    assert ask.check(result, "above")["outcome"] == "unknown"
    assert ask.check(result, "log")["outcome"] == "caution"


def test_a_gap_is_not_known() -> None:
    """Lines that are missing, or a clock that was put forward: more than an hour between two readings."""
    lines = ask.log(ask.COLD).splitlines()
    for taken, wanted in ((1, "pass"), (2, "unknown")):
        result = ask.run(log="\n".join(lines[:5] + lines[5 + taken :]))
        assert ask.check(result, "above")["outcome"] == wanted, taken
        assert result["outcome"] == wanted
    assert "from 2026-11-28 07:30 to 2026-11-28 09:00" in ask.check(result, "above")["note"]


def test_a_clock_put_back_is_told_and_an_hour_is_not_known() -> None:
    """Half-hourly, 08:00 to 08:30 comes twice."""
    lines = ask.log([2] * 14).splitlines()
    turned = [*lines[:7], *ask.log([2] * 7, begin=ask.BEGIN + timedelta(hours=2)).splitlines()[1:]]
    text = "\n".join(turned)
    assert [each[0] for each in troubles(text)] == ["back", "same", "same"]
    result = ask.run(log=text, now="2026-11-28 11:00")
    assert ask.check(result, "above")["outcome"] == "unknown"
    assert sum(int(row[2].split()[0]) for row in ask.rows(result, "silent")) >= 60
    named = "\n".join(f"{line.split(',')[0]}{'+01:00' if at < 6 else '+00:00'},2 C" for at, line in enumerate(turned[1:]))
    assert troubles(named) == []
    assert read(named)[0][0] == "2026-11-28 05:00"


def test_a_clock_put_back_in_an_hourly_log_leaves_one_time_twice() -> None:
    """With two readings the warmer counts and an hour is not known; alike and warm, an hour more may be missing."""
    lines = ask.log([2, 2, 2, 2, 2], step=60).splitlines()
    twice = [*lines[:3], "2026-11-28 07:00,3", *lines[3:]]
    result = ask.run(log="\n".join(twice), now="2026-11-28 10:00")
    assert [row[1] for row in ask.rows(result, "log")] == ["It has the time of line 3 and another reading."]
    assert ask.check(result, "above")["outcome"] == "unknown"
    warm = [*lines[:2], "2026-11-28 07:00,9", "2026-11-28 07:00,9", *lines[3:]]
    result = ask.run("au", log="\n".join(warm), now="2026-11-28 10:00", plan="time", marked="yes")
    # 06:00 to 08:00 above, and the hour that may be missing: within four hours either way.
    assert ask.check(result, "above")["text"].startswith("180 min")


def test_duplicates_that_agree_count_once() -> None:
    """Told, and nothing is unknown for it."""
    lines = ask.log(ask.COLD).splitlines()
    text = "\n".join([*lines[:4], lines[3], *lines[4:]])
    assert troubles(text) == [("same", 5, True)]
    assert ask.outcome("above", log=text) == "pass"
    assert ask.run(log=text)["outcome"] == "caution"


def test_lines_out_of_order_are_put_in_their_place_and_told() -> None:
    """Two lines changed, and a log with its newest line first, which is no trouble."""
    lines = ask.log(ask.COLD).splitlines()
    swapped = [*lines[:4], lines[5], lines[4], *lines[6:]]
    assert troubles("\n".join(swapped)) == [("order", 6, True)]
    assert read("\n".join(swapped), scale="c") == read("\n".join(lines), scale="c")
    newest = [lines[0], *reversed(lines[1:])]
    assert troubles("\n".join(newest)) == []
    assert read("\n".join(newest), scale="c") == read("\n".join(lines), scale="c")


def test_a_shuffled_log_is_read_as_the_one_in_order() -> None:
    """Every line that stands before an earlier one is told; no time of it is lost, and none is not known."""
    lines = ask.log(ask.COLD).splitlines()
    shuffled = [lines[0], *(lines[1 + at * 5 % 13] for at in range(13))]
    found = troubles("\n".join(shuffled))
    latest = [max(shuffled[1:row]) for row in range(2, 15)]
    assert [row for _, row, _ in found] == [row for row, before in enumerate(latest, 3) if row < 15 and shuffled[row - 1] < before]
    assert {(kind, harmless) for kind, _, harmless in found} == {("order", True)}
    assert read("\n".join(shuffled), scale="c") == read("\n".join(lines), scale="c")


def test_a_clock_put_forward_leaves_an_hour_that_nobody_read() -> None:
    """Of a log of any step: 08:00 to 09:00 is missing, and with it more than an hour lies between two readings."""
    for step in (1, 5, 15, 30):
        count = 120 // step
        before, after = ask.log([2] * (count + 1), step), ask.log([2] * (count + 1), step, ask.BEGIN + timedelta(minutes=180 + step))
        result = ask.run(log="\n".join([before, *after.splitlines()[1:]]), now="2026-11-28 11:30")
        assert ask.rows(result, "silent") == [["2026-11-28 08:00", f"2026-11-28 09:{step:02d}", f"{60 + step} min"]]
        assert ask.check(result, "above")["outcome"] == "unknown"


@pytest.mark.parametrize("seed", range(60))
def test_no_line_of_a_broken_log_is_dropped(seed: int) -> None:
    """Each is a reading or is told with its row and a mend, or both; the heading alone is neither."""
    rng = random.Random(f"broken logs {seed}")
    lines = logs.random_log(rng).splitlines()
    for _ in range(rng.randrange(0, 5)):
        line = rng.choice(lines[1:])
        lines.insert(rng.randrange(1, len(lines) + 1), rng.choice([
            line, lines[0], "battery changed", "2026-02-30 09:15,2", f"{line.split(',')[0]},36.5 °F", f"{line.split(',')[0]},-127", ""]))
    try:
        found = logfile.read("\n".join(lines), "", "")
    except Unreadable:
        assert not [line for line in lines if re.search(r",-?\d\d?\.\d( °F)?$", line)]
        return
    wanted = {row for row, line in enumerate(lines, 1) if line and row > 1}
    assert {*found.rows, *(each.row for each in found.troubles)} == wanted
    assert all(each.what and each.mend for each in found.troubles)


def test_a_broken_line_in_a_log_with_its_newest_first() -> None:
    """What is not known lies between the same two readings."""
    lines = ask.log(ask.with_at({5: "---"})).splitlines()
    either = [ask.rows(ask.run(log="\n".join(text)), "silent") for text in (lines, [lines[0], *reversed(lines[1:])])]
    assert either[0] == either[1] != []


def test_mixed_scales_are_read_as_they_say_and_told() -> None:
    """°F among °C by the cell's own word; a bare number among cells that name theirs is not known."""
    text = "2026-11-28 06:00,2 °C\n2026-11-28 06:30,35.6 °F\n2026-11-28 07:00,2"
    assert troubles(text, scale="") == [("mixed", 2, True), ("scale", 3, False)]
    assert read(text) == [("2026-11-28 06:00", 2.0), ("2026-11-28 06:30", 2.0)]


@pytest.mark.parametrize("line", ["2026-02-30 09:15,2", "2026-11-28 24:15,2", "28-11-26 0915,2", ",2"])
def test_a_time_that_is_none_is_told_and_counts_against(line: str) -> None:
    """Nobody knows when that reading was."""
    lines = ask.log(ask.COLD).splitlines()
    result = ask.run(log="\n".join([*lines[:6], line, *lines[6:]]))
    assert [row[0] for row in ask.rows(result, "log")] == ["line 7"]
    assert ask.check(result, "above")["outcome"] == "unknown"


def test_a_remark_is_told_and_counts_against_until_it_is_taken_out() -> None:
    """It may have been a reading; a heading that comes again is none."""
    lines = ask.log(ask.COLD).splitlines()
    assert troubles("\n".join([*lines[:6], "battery changed", *lines[6:]])) == [("text", 7, False)]
    assert troubles("\n".join([*lines[:6], lines[0], *lines[6:]])) == [("text", 7, True)]
    result = ask.run(log="\n".join([*lines, "end of log"]), now="2026-11-28 12:20")
    assert ask.check(result, "above")["outcome"] == "unknown"


@pytest.mark.parametrize(("top", "kind"), [
    ("time,temperature (°C)\n2026-02-30 06:00,9", "time"), ("time,temperature (°C)\n---,9", "time"),
    ("time,temperature (°C)\nbattery changed", "text"), ("---,9 °C", "time"), ("Model 3,x\n,9 °C", "time"),
])  # fmt: skip
def test_the_first_line_may_be_the_broken_one(top: str, kind: str) -> None:
    """What stands between the heading and the first day, or has a number where there is no heading, is no heading."""
    text = f"{top}\n2026-11-28 06:30,2 °C\n2026-11-28 07:00,2 °C"
    assert troubles(text) == [(kind, len(top.splitlines()), False)]
    result = ask.run(log=text, now="2026-11-28 07:00")
    assert ask.check(result, "above")["outcome"] == "unknown"


@pytest.mark.parametrize("top", ["Instrument 7\nModel 3", "Alarm above,8 °C\nStep,10 min\ntime,temperature (°C)", "Place;Kitchen", "x,y,z"])
def test_what_an_instrument_says_of_itself_is_no_trouble(top: str) -> None:
    assert troubles(f"{top}\n2026-11-28 06:30,2 °C\n2026-11-28 07:00,2 °C") == []


def test_every_trouble_says_what_to_do() -> None:
    """A sentence each, and the whole list is counted where it is not shown."""
    result = ask.run(log=ask.log(["---", 2] * 40, step=4), now="2026-11-28 11:16")
    assert all(row[2].endswith(".") for row in ask.rows(result, "log"))
    assert len(ask.rows(result, "log")) == 40
    result = ask.run(log=ask.log(["---", 2] * 80, step=2), now="2026-11-28 11:18")
    table = next(each for each in result["tables"] if each["key"] == "log")
    assert (len(table["rows"]), "20 more are not listed" in table["note"]) == (60, True)


def test_cells_in_quotes_hold_a_separator() -> None:
    """And a bare cell keeps its word."""
    assert columns.cells('"a,b",c', ",") == ["a,b", "c"]
    assert columns.bare("4.5 °C") == ("4.5", "c")
    assert columns.bare("Error C") == ("Error C", "")


def test_a_reading_of_hand_in_a_doubtful_time_takes_no_doubt_away() -> None:
    """It stands for its moment: the times before and after it stay unknown, at the end of a log too."""
    by_hand = {"readings": [{"at": "2026-11-28 08:45", "degrees": 2}]}
    result = ask.run(log=ask.log(ask.with_at({5: "---"})), **by_hand)
    assert sum(int(row[2].split()[0]) for row in ask.rows(result, "silent")) == 60
    broken = ask.log(ask.with_at({12: "---"}))
    result = ask.run(log=broken, readings=[{"at": "2026-11-28 12:00", "degrees": 2}])
    assert ask.rows(result, "silent")[0] == ["2026-11-28 11:30", "2026-11-28 12:00", "30 min"]
    assert ask.check(result, "above")["outcome"] == "unknown"
