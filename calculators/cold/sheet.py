"""Working, values and tables: the time above, the lines to look at, what goes out, what to write down."""

from __future__ import annotations

from ..core import Work
from ..core.moments import moment_text
from . import checks, dates, maths
from .inputs import Inputs
from .model import Found

Number = float | None
SHOWN = 60  # lines of a log that are listed one by one
RULE = ("Between two readings nobody knows how warm it was. It counts as above from the last reading that was not above the limit "
        "to the first one that is not above it again.")  # fmt: skip
ON = "The hours of a time plan run on from there until now, cold again or not."
SINCE = "Since it left the cold"
ONCE = "It counts from the first time above to the last."


def working(inputs: Inputs, work: Work, found: Found) -> None:
    """The limit, and the minutes above it."""
    work.section("The limit")
    work.rule("T_cold", "food.cold_holding")
    if inputs.pack_names and inputs.cooling == "chilled":
        work.take("pack_limit")
        work.step("T_lim", "What food may not be above", "min(T_cold, T_pack)", "temperature")
    else:
        work.step("T_lim", "What food may not be above", "T_cold", "temperature")
    if not found.known or work.unknown("put_in", "now"):
        return
    work.section("Minutes above it")
    graced = sum(spell.minutes for spell in found.graced)
    count = checks.counted(inputs, work)
    note = f"{RULE} {ON}" if count.on else f"{RULE} {ONCE}" if count.once else RULE
    work.given("t_out", SINCE if count.on else "Above the limit", checks.time_above(inputs, work, found) + graced, "minutes", note=note)
    work.given("t_grace", "Of it air, within the grace after filling", graced, "minutes")
    work.step("t_above", "Above the limit, and no grace for it", "t_out - t_grace", "minutes")
    work.given("t_dark", "Of which nothing is known", found.unknown, "minutes")
    if count.on or count.once:
        work.given("t_most", "Above the limit at most", checks.time_at_most(inputs, work, found), "minutes",
                   note="With all that is not known, counted in the same way.")  # fmt: skip
    else:
        work.step("t_most", "Above the limit at most", "t_above + t_dark", "minutes")
    work.given("t_in", "Since it was put in", float(inputs.now - inputs.put_in), "minutes")
    work.step("t_told", "Of it told by readings", "max(t_in - t_dark, 0)", "minutes")
    if inputs.now > inputs.put_in:
        work.step("s", "The same as a share", "100*t_told/t_in", "percent")


def values(inputs: Inputs, work: Work, found: Found, left: list[Number]) -> None:
    """The three that are asked for most, and what is not known."""
    told = found.known and not work.unknown("put_in")
    work.value("above", checks.time_above(inputs, work, found) if told else None)
    work.value("warmest", found.peak if told else None)
    known = [each for each in left if each is not None]
    work.value("left", min(known) if known and len(known) == len(left) else None)
    work.value("unknown", found.unknown if told and not work.unknown("now") else None)
    work.value("after_filling", found.after_filling if told else None)


# -- tables -------------------------------------------------------------------------------


def tables(inputs: Inputs, work: Work, found: Found, left: list[Number]) -> None:
    """What to do with each lot, what to write, what of the log must be looked at."""
    if inputs.cooling == "ambient":
        return
    _lots(inputs, work, left)
    _record(inputs, work, found)
    _spells(work, found)
    _silent(work, found)
    _troubles(work, found)


def _lots(inputs: Inputs, work: Work, left: list[Number]) -> None:
    """Each lot by its own date; what was too warm takes all of them along."""
    if not inputs.lots:
        return
    common = _worst(work, "")
    rows: list[tuple[str, ...]] = []
    for number, lot in enumerate(inputs.lots):
        name = f"{number + 1}. {dates.name_of(number, lot)}"
        own = _worst(work, name)
        rows.append((name, work.text(left[number], "days", "down"), _do(common, own)))
    work.table("lots", "What to do with each lot", {"lot": "Lot", "left": "Left after today", "do": "Do"}, rows,
               note="Lots that lie mixed and cannot be told apart all bear the earliest date.")  # fmt: skip


def _worst(work: Work, at: str) -> str:
    """The worst outcome of the checks at a place; those of the whole cabinet have none."""
    found = [check.outcome for check in work.checks if check.at == at]
    return next((each for each in ("stop", "unknown", "caution") if each in found), "pass")


def _do(common: str, own: str) -> str:
    if own == "stop":
        return "Throw it out: its date."
    if common == "stop":
        return "Not for sale: see “What to do now”."
    if "unknown" in (common, own):
        return "Not for sale until all is known."
    return "The office decides: see “Not settled”." if own == "caution" else "Its date allows it."


def _record(inputs: Inputs, work: Work, found: Found) -> None:
    told = found.known and not work.unknown("put_in")
    last = f"{moment_text(found.readings.times[-1])}, {work.text(found.readings.degrees[-1], 'temperature', 'up')}" if found.known else "–"
    rows: list[tuple[str, ...]] = [
        ("Now", moment_text(inputs.now) if inputs.now is not None else "–"),
        ("Put in", moment_text(inputs.put_in) if inputs.put_in is not None else "–"),
        ("Last cold reading", _last_cold(work, found)),
        ("Last reading", last),
        ("Warmest that counts", work.text(found.peak if told else None, "temperature", "up")),
        (SINCE if checks.counted(inputs, work).on else "Minutes above the limit", work.text(checks.time_above(inputs, work, found) if told else None, "minutes", "up")),
        ("Thrown out", "product, lot, how many"),
        ("Why it was warm", "what you saw"),
    ]  # fmt: skip
    work.table("record", "What to write down", {"what": "What", "value": "Value"}, rows, note="With your name, and the thermometer used.")


def _last_cold(work: Work, found: Found) -> str:
    if found.limit is None:
        return "–"
    rows = zip(reversed(found.readings.times), reversed(found.readings.degrees), strict=True)
    cold = next(((at, degrees) for at, degrees in rows if degrees <= (found.limit or 0.0)), None)
    return f"{moment_text(cold[0])}, {work.text(cold[1], 'temperature', 'up')}" if cold else "none since it was put in"


def _spells(work: Work, found: Found) -> None:
    rows: list[tuple[str, ...]] = [(moment_text(each.start), moment_text(each.end), work.text(each.minutes, "minutes", "up"),
             work.text(each.peak, "temperature", "up"), "grace of the air" if each in found.graced else "counts")
            for each in sorted((*found.spells, *found.graced))[:SHOWN]]  # fmt: skip
    if rows:
        work.table("spells", "When it was above the limit", {"from": "From", "until": "Until", "minutes": "Time", "peak": "Warmest",
                   "counts": "Counts"}, rows, note=RULE + _rest(len(found.spells) + len(found.graced)), detail=True)  # fmt: skip


def _rest(count: int) -> str:
    return f" {count - SHOWN} more are not listed; all of them count." if count > SHOWN else ""


def _silent(work: Work, found: Found) -> None:
    rows: list[tuple[str, ...]] = [
        (moment_text(each.start), moment_text(each.end), work.text(each.minutes, "minutes", "up")) for each in found.silent[:SHOWN]
    ]
    if rows:
        work.table("silent", "When nobody knows how warm it was", {"from": "From", "until": "Until", "minutes": "Time"}, rows,
                   note="Readings farther apart than the rule’s figure, lines that could not be read, or a clock that was changed. Find "
                   "another record of that time. Without one it counts against the food." + _rest(len(found.silent)))  # fmt: skip


def _troubles(work: Work, found: Found) -> None:
    if found.log is None or not found.log.troubles:
        return
    rows: list[tuple[str, ...]] = [(f"line {each.row}", each.what, each.mend) for each in found.log.troubles[:SHOWN]]
    work.table("log", "Lines of the log to look at", {"line": "Line", "what": "What is odd", "do": "What to do"}, rows,
               note="Lines are counted from the first of the log." + _rest(len(found.log.troubles)))  # fmt: skip


# -- an estimate, never a permission --------------------------------------------------------


def estimate(inputs: Inputs, work: Work, found: Found) -> None:
    """Shelf life used by two models; no check rests on it."""
    if work.unknown("life_days", "life_at") or not found.known:
        return
    least = work.inner("food.spoilage_least")
    usable = None if least is None or inputs.life_at <= least else least
    mean = maths.mean_rates(found.readings, found.gap, inputs.life_at, usable, inputs.q10)
    rows = [_model(work, inputs, name, rate, mean.minutes)
            for name, rate in (("Square-root", mean.root), ("Q10", mean.q10)) if rate is not None]  # fmt: skip
    work.table("estimate", "An estimate of the shelf life used", {"model": "Model", "rate": "Mean rate", "used": "Days used",
               "share": "Share of the tested life"}, rows,
               note="An estimate from the tested life and the readings, at the warmer one of each two. It is never a permission: "
               "what the checks stop stays stopped. Times that are not known are left out of it.", detail=True)  # fmt: skip


def _model(work: Work, inputs: Inputs, name: str, rate: float, minutes: float) -> tuple[str, ...]:
    used = rate * minutes / maths.DAY
    return (name, work.text(rate, "ratio", "up") + " times", work.text(used, "days", "up"),
            work.text(100 * used / inputs.life_days, "percent", "up"))  # fmt: skip


