"""The checks of cold and time: where the food was, how warm, how long, and under which plan."""

from __future__ import annotations

from ..core import Work
from ..core.moments import moment_text
from ..core.report import Check
from . import maths, model
from .inputs import FREEZING, PROBE, SHUTOFF, Inputs
from .maths import Count, Judged
from .model import Found

Number = float | None
MINUTE = 1.0  # what a clock and a log are good for, where a time plan counts hours

OUT = "Stop sales, and throw it out: tear the packs open, and label the bag “Do not eat”."
READ = "Read the food between two packs in the warmest part, and write it down."
FLOOR = "A cabinet that is not cold holds no food that must stay cold: take it out."
SERVED = "Sales stay stopped until the cause is fixed, the shutoff is proved, and only sound food is inside."


def solve(inputs: Inputs, work: Work, found: Found) -> None:
    """All of them, in the order in which a keeper looks."""
    if not _applies(inputs, work):
        return
    _log(work, found)
    _start(inputs, work)
    _warmest(inputs, work, found)
    _above(inputs, work, found)
    _filling(inputs, work, found)
    _plan(inputs, work, found)
    _shutoff(inputs, work, found)
    _frozen(inputs, work, found)


def _applies(inputs: Inputs, work: Work) -> bool:
    cools = None if inputs.cooling is None else inputs.cooling != "ambient"
    work.verdict("applies", cools, good="It cools.", needs=("cooling",), instead=FLOOR,
                 bad="This page does not apply: the cabinet does not cool.")  # fmt: skip
    return cools is not False


def _log(work: Work, found: Found) -> None:
    """Whatever is odd about a log is told, also where nothing is unknown for it."""
    if found.log is None:
        return
    count = len(found.log.troubles)
    work.verdict("log", not count, good=f"{len(found.log.times)} readings, each with its time.", soft=True,
                 bad=f"{count} line{'s' if count > 1 else ''} of it must be looked at: see the table.",
                 instead="The table says what to do about each line.")  # fmt: skip


def _pack(inputs: Inputs) -> tuple[str, ...]:
    """What may make the limit lower, while it is not told; see :func:`model.limit`."""
    if inputs.cooling == "frozen" or inputs.pack_names is False:
        return ()
    return ("pack_names", *(("pack_limit",) if inputs.pack_names else ()), "cooling")


def _start(inputs: Inputs, work: Work) -> None:
    limit = model.limit(inputs, work.inner("food.cold_holding"))
    needs = ("loaded", *_pack(inputs))
    work.check("start", _worst(inputs.loaded, limit, work, needs[1:]), limit, tolerance=PROBE, needs=needs,
               note="What was too warm when it went in was so for a time that nobody knows.", instead=OUT)  # fmt: skip


def _worst(value: Number, limit: Number, work: Work, open_: tuple[str, ...]) -> Number:
    """A value that can only come out worse by what is open: it decides now only where it fails already."""
    if value is None or limit is None or (work.unknown(*open_) and value <= limit):
        return None
    return value


# -- readings ---------------------------------------------------------------------------


def _better(inputs: Inputs, work: Work, found: Found) -> tuple[str, ...]:
    """Blanks without which a spell may not count at all."""
    spelled = found.after_filling or 0.0
    return work.unknown("put_in", *(("measured",) if spelled else ()))


def _warmest(inputs: Inputs, work: Work, found: Found) -> None:
    """Of the readings that count; a plan by time alone has no warmest."""
    if inputs.plan == "time":
        return
    watched = inputs.plan == "watched"
    limit = work.inner("food.time_watched_limit") if watched else found.limit
    better = _better(inputs, work, found)
    worse = ("now", *(() if watched else _pack(inputs)), *found.open_rows, *_readings(found))
    peak = None if better else _worst(_peak(inputs, found.peak), limit, work, worse)
    # Air that may be too warm by its own thermometer alone is a reason to read the food, and none to throw it out.
    near = inputs.measured != "food" and peak is not None and limit is not None and peak <= limit
    work.check("warmest", peak, limit, tolerance=model.off(inputs, work), needs=("put_in", "measured", *worse),
               rules=(*(("food.time_watched_limit",) if watched else ()), *model.off_rules(inputs)),
               instead=READ if near else OUT)  # fmt: skip


def _peak(inputs: Inputs, peak: Number) -> Number:
    """The warmest reading; one without its time counts too."""
    loose = [row.degrees for row in inputs.readings or [] if row.at is None and row.degrees is not None]
    known = [] if peak is None else [peak]
    return max([*known, *loose], default=None)


def _readings(found: Found) -> tuple[str, ...]:
    """What to ask for where there is no reading of the time that counts."""
    return () if found.known else ("readings",)


def _above(inputs: Inputs, work: Work, found: Found) -> None:
    allowed = allowance(inputs, work)
    needs = ("put_in", "measured", "now", *_pack(inputs), *found.open_rows, *_readings(found))
    value = _bounded(inputs, work, found, allowed)
    made = work.check("above", value, allowed, tolerance=MINUTE if allowed else 0.0, needs=needs, note=_silence(found),
                      instead=OUT, rules=_plan_rules(inputs, work))  # fmt: skip
    if made.outcome == "pass" and inputs.plan != "none" and allowed is not None:
        _by_thermometer(made, inputs, work, found, allowed)
    if made.outcome == "unknown" and not made.needs and found.unknown and allowed is not None:
        made.text = f"Of {work.text(found.unknown, 'minutes', 'up')} nothing is known. In doubt it is thrown out."
        if found.log is None and inputs.shutoff == "quiet":
            _by_shutoff(made, work, found)


def _by_thermometer(made: Check, inputs: Inputs, work: Work, found: Found, allowed: float) -> None:
    """Hours of a plan that are kept only if the readings near the limit are right: by hours alone no check asks how warm it was."""
    most = maths.above_at_most(model.nearly(inputs, work, found), found.end or 0.0, counted(inputs, work))
    if most > allowed:
        made.outcome = "caution"
        made.text = (f"{made.text} With the thermometer {work.show.off(model.off(inputs, work), 'temperature')} off it may be "
                     f"{work.text(most, 'minutes', 'up')}.")  # fmt: skip
        made.note = f"{made.note} {READ}".strip()


def _by_shutoff(made: Check, work: Work, found: Found) -> None:
    """Between readings of hand only the shutoff stands for the cold: never a Go. A log that fell silent is not mended by it."""
    made.outcome = "caution"
    made.text = (f"Of {work.text(found.unknown, 'minutes', 'up')} no reading tells; only the shutoff, which did not trip, stands "
                 "for them.")  # fmt: skip


def _bounded(inputs: Inputs, work: Work, found: Found, limit: Number) -> Number:
    """Minutes above: those for sure where they are too many, else with all that is not known; None in between."""
    return _between(inputs, work, found, limit, time_above(inputs, work, found), time_at_most(inputs, work, found))


def _between(inputs: Inputs, work: Work, found: Found, limit: Number, least: float, most: float) -> Number:
    """What is sure where it is too much already, the most that it may be where that is allowed; None in between."""
    if not found.known or limit is None or _better(inputs, work, found):
        return None
    value = least if least > limit else most if most <= limit else None
    return _worst(value, limit, work, ("now", *_pack(inputs), *found.open_rows))


def _silence(found: Found) -> str:
    """Where nothing is known: the first of it, with what ends the doubt."""
    if not found.silent:
        return ""
    first = found.silent[0]
    more = f", and {len(found.silent) - 1} more" if len(found.silent) > 1 else ""
    return (f"Nothing tells how warm it was from {moment_text(first.start)} to {moment_text(first.end)}{more}. Only a record of "
            "that time can show that the food was cold.")  # fmt: skip


def _plan_rules(inputs: Inputs, work: Work) -> tuple[str, ...]:
    key = {"time": "food.time_without_cooling_hours", "watched": "food.time_watched_hours"}.get(inputs.plan)
    count = counted(inputs, work)
    how = (("food.time_once",) if count.once else ()) + (("food.time_runs_on",) if count.on else ())
    return () if key is None else (key, *how)


def allowance(inputs: Inputs, work: Work) -> Number:
    """Minutes above the limit that a plan allows; none without one. Where it is once only it is less than the hours."""
    keys = _plan_rules(inputs, work)
    if not keys:
        return 0.0
    hours = work.inner(keys[0])
    return None if hours is None else 60 * hours - (MINUTE if _once(work) else 0.0)


def _once(work: Work) -> bool:
    return work.rules.get("food.time_once") is not None


def counted(inputs: Inputs, work: Work) -> Count:
    """How the rule set counts; hours of a plan may run on once the food is cold again."""
    return Count(once=_once(work), on=inputs.plan != "none" and work.rules.get("food.time_runs_on") is not None)


def time_above(inputs: Inputs, work: Work, found: Found) -> float:
    """Minutes above the limit as the rule set counts them."""
    return maths.above(found.spells, found.end or 0.0, counted(inputs, work))


def time_at_most(inputs: Inputs, work: Work, found: Found) -> float:
    """The same, had it been above in all the time of which nothing is known."""
    return maths.above_at_most(Judged(found.spells, found.silent), found.end or 0.0, counted(inputs, work))


def _filling(inputs: Inputs, work: Work, found: Found) -> None:
    """The grace of the cabinet's air; whatever was read, it is back in the cold by then."""
    if inputs.plan != "none":
        return
    worse = ("now", *_pack(inputs), *found.open_rows, *_readings(found))
    limit = work.inner("food.reload_minutes")
    value = None if work.unknown("put_in") or not found.known else _worst(found.after_filling, limit, work, worse)
    work.check("filling", value, limit, needs=("put_in", *worse),
               instead="Stop sales of what must stay cold. " + READ)  # fmt: skip


# -- plan, shutoff, frozen ----------------------------------------------------------------


def _plan(inputs: Inputs, work: Work, found: Found) -> None:
    if inputs.plan == "none":
        return
    work.verdict("marked", inputs.marked, good="It stands on each pack.", needs=("marked",), instead=OUT,
                 bad="A pack without its end time is thrown out.")  # fmt: skip
    if _once(work):
        _periods(inputs, work, found)
    back = work.rules.get("food.time_back_hours")
    if back is not None:
        _back(inputs, work, found, 60 * back.inner)


def _periods(inputs: Inputs, work: Work, found: Found) -> None:
    """Out of the cold once only: a second time is too many however short both are. A silence may be, or part, one more."""
    least = float(len(found.spells))
    most = least + sum(span.end > span.start for span in found.silent) + sum(not spell.whole for spell in found.spells)
    needs = ("put_in", "measured", "now", *_pack(inputs), *found.open_rows, *_readings(found))
    work.check("once", _between(inputs, work, found, 1.0, least, most), 1.0, needs=needs, rules=("food.time_once",), instead=OUT)


def _back(inputs: Inputs, work: Work, found: Found, limit: float) -> None:
    """A cabinet is cold: food that may not go back into the cold is not sold from it."""
    needs = ("put_in", "measured", "now", *_pack(inputs), *found.open_rows, *_readings(found))
    work.check("back", _bounded(inputs, work, found, limit), limit, tolerance=MINUTE, needs=needs, rules=("food.time_back_hours",),
               instead="It is used at once or thrown out, and never sold from a cold cabinet.")  # fmt: skip


def _shutoff(inputs: Inputs, work: Work, found: Found) -> None:
    rule = work.rule_of("food.shutoff")
    by_law = rule is not None and rule.status != "common practice"
    warm = _untripped(inputs, work, found)
    open_ = work.unknown("put_in") if warm else ()  # what it did before this food came is not about it
    ok = None if inputs.shutoff is None or open_ else inputs.shutoff in ("quiet", "proved") and not warm
    none = inputs.shutoff == "none"
    words = SHUTOFF[inputs.shutoff or "none"]
    bad = f"It has not tripped, though all readings of {work.text(warm, 'minutes', 'down')} were too warm." if warm else f"{words}."
    work.verdict("shutoff", ok, good=f"{words}.", bad=bad, needs=("shutoff", *open_), soft=none and not by_law,
                 rules=("food.cold_holding", "food.reload_minutes") if warm else (),
                 instead="Sales are stopped by hand, as soon as anything is too warm." if none and not by_law else
                 "It may not sell food that must stay cold." if none else SERVED)  # fmt: skip


def _untripped(inputs: Inputs, work: Work, found: Found) -> float:
    """Minutes for which it was surely too warm, and longer than after a filling, while the shutoff did nothing; else 0."""
    limit, grace = work.inner("food.cold_holding"), work.inner("food.reload_minutes")
    if inputs.shutoff != "quiet" or limit is None or grace is None:
        return 0.0
    warm = maths.longest_run(found.readings, limit + model.off(inputs, work), found.gap)
    return warm if warm > grace else 0.0


def _frozen(inputs: Inputs, work: Work, found: Found) -> None:
    if inputs.cooling == "chilled":
        return
    hard = inputs.hard if inputs.cooling == "frozen" else None
    told = _hard(inputs, work, found) if hard else hard
    open_ = hard is True and told is None
    work.verdict("hard", told, good="It stayed hard.", instead=OUT, rules=("food.freezing",),
                 needs=("cooling", "hard", *(("measured", "put_in") if open_ else ())),
                 bad="It was read above freezing, and what is hard is not." if hard else
                 "It went soft. What has thawed is never frozen again.",
                 note="Readings were above freezing, and what is hard is not. " + READ if open_ else "")  # fmt: skip
    if inputs.cooling == "frozen" and inputs.pack_names is not False:
        _frozen_pack(inputs, work, found)


def _hard(inputs: Inputs, work: Work, found: Found) -> bool | None:
    """Whether readings bear out that food is hard; None where they may be off by as much, or are of air for longer than its grace."""
    if inputs.measured == "air":
        lasts = maths.longest_run(found.readings, FREEZING, found.gap) > (work.inner("food.reload_minutes") or 0.0)
        return None if lasts else True
    warmest = _peak(inputs, max(found.readings.degrees, default=None))
    if warmest is None or warmest <= FREEZING:
        return True
    sure = inputs.measured == "food" and inputs.put_in is not None and warmest > FREEZING + PROBE
    return False if sure else None


def _frozen_pack(inputs: Inputs, work: Work, found: Found) -> None:
    """Above what its pack names frozen food loses its quality first, so that this is never a stop."""
    value = None if inputs.pack_names is None or inputs.pack_limit is None or not found.known else max(found.readings.degrees)
    work.check("pack", value, inputs.pack_limit, tolerance=model.off(inputs, work), needs=(*_pack(inputs), "now", *_readings(found)),
               instead="Ask the office: its quality may have suffered. Find out why it got warmer.")  # fmt: skip
