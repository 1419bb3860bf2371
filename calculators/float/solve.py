"""Fills the working sheet of the float: tubes, sales, prices, chance, load."""

from __future__ import annotations

from ..core import Work
from ..core.progress import Steps
from ..core.report import Mend
from .bills import check_bills
from .boxes import check_boxes, working_sales
from .cash import cash_prices
from .coinage import book, notes, stacks
from .effort import FULL, GLANCE, Effort
from .figure import draw
from .inputs import Inputs
from .judge import Chance
from .loading import tell_load
from .plan import NO_WAY, Case, case_of, chance_mend, lacking, unknown_paths
from .prices import check_prices
from .results import VALUES, ends_of, give_tables, give_values, working_chance
from .sequential import ODDS
from .setup import ROUNDING, Shares, over_unknown, shares, taken, turned_away
from .tubes import check_fit, check_marks, rooms

OVER_UNKNOWN = "It is told as if nobody paid with coins over the price; such buyers ask for change."
ONCE_FILLED = "That is once the tubes are filled as planned."


def solve(inputs: Inputs, work: Work) -> Steps[None]:
    """Work out one request; see the modules named for each part. It tells how far it is, and may be stopped."""
    yield from _solved(inputs, work, FULL)


def glance(inputs: Inputs, work: Work) -> Steps[bool]:
    """A first answer that comes soon, its chances less exact; whether there is nothing more to work out."""
    case = yield from _solved(inputs, work, GLANCE)
    return case is None or case.judge.exact is not None


def _solved(inputs: Inputs, work: Work, effort: Effort) -> Steps[Case | None]:
    coins = book(work)
    room = rooms(work, coins)
    paid = cash_prices(work)
    split = shares(inputs)
    part, deviations = working_sales(work, split)
    missing = unknown_paths(work, coins)
    foreign = lacking(work, coins)
    case = None
    if not missing and split is not None and None not in room and not foreign:
        held = stacks(coins, inputs.tubes, [each or 0 for each in room])
        case = yield from case_of(work, coins, held, split, [price or 0 for price in paid], effort)
    _check_chance(work, case, missing, foreign)
    check_fit(work, coins, room)
    check_prices(work, coins, split, paid)
    _check_shares(work, split)
    check_bills(work, split)
    check_marks(work, room, case)
    check_boxes(work, case.setup if case else None, part, deviations)
    _give(work, case, part)
    return case


def _give(work: Work, case: Case | None, part: float | None) -> None:
    if case is None:
        for key in VALUES:
            work.value(key, None)
        return
    working_chance(work, case)
    ends = ends_of(case)
    give_values(work, case, ends, part)
    give_tables(work, case, ends)
    work.figure(draw(work, case, ends))


def _check_chance(work: Work, case: Case | None, missing: tuple[str, ...], foreign: tuple[str, ...]) -> None:
    inputs = work.asked(Inputs)
    if case is None:
        note = f"This rule set has no figure for: {', '.join(foreign)}." if foreign else ""
        work.check("chance", None, inputs.wanted, needs=missing, note=note)
        return
    chance = case.chance
    mend = None if chance.met else chance_mend(work, case)
    note = _chance_note(case, work, mended=mend is not None)
    if chance.met is not False and over_unknown(inputs):
        work.check("chance", None, inputs.wanted, needs=("share_over",), note=f"{OVER_UNKNOWN} {note}")
        return
    value = 100 * (chance.low if chance.flawless else chance.value)
    made = work.check("chance", value, inputs.wanted, tolerance=_tolerance(case, value - inputs.wanted),
               soft=True if chance.met is None else None, mend=mend, note=note)  # fmt: skip
    if case.planning and case.plan.met:
        made.text = f"{made.text} {ONCE_FILLED}"
        tell_load(work, case)


def _tolerance(case: Case, margin: float) -> float:
    """How far the chance may be off, in percent: less than its margin where it is decided, else no less."""
    chance = case.chance
    if chance.met or not chance.runs:
        return 0.0
    return max(100 * (chance.value - chance.low), margin)


def _chance_note(case: Case, work: Work, *, mended: bool) -> str:
    chance, plan = case.chance, case.plan
    parts = _left_out(work)
    if case.planning:
        parts.append("No coins were counted: the tubes are taken as empty, then loaded as planned.")
    parts += [_how_sure(work, chance), *(["You stopped it: fewer runs were played."] if case.judge.stopped else [])]
    if not chance.met and not plan.met:
        parts.append("No load of whole rolls does it at so long a stay." if mended else _no_way(work))
        parts += [] if plan.proven or case.judge.stopped else ["There were too many loads to try them all."]
        if plan.open:
            parts.append(f"Loads that cannot be told apart from one that does: {len(plan.open)}.")
    return " ".join(parts)


def _left_out(work: Work) -> list[str]:
    """Who is none of the buyers played, as no change helps them."""
    inputs, known = work.asked(Inputs), notes(work)
    counted = inputs.share_notes and taken(inputs, known)
    return ["Buyers whose bill is not taken are left out."] if counted and turned_away(inputs, known) else []


def _no_way(work: Work) -> str:
    inputs = work.asked(Inputs)
    return NO_WAY if taken(inputs, notes(work)) or not inputs.share_notes else (
        "No bill that they bring is taken: no load helps those buyers.")  # fmt: skip


def _how_sure(work: Work, chance: Chance) -> str:
    """What the chance rests on."""
    if not chance.runs:
        return "Worked out exactly."
    if chance.flawless:
        low = work.text(100 * chance.low, "chance", "down")
        return f"No refusal in {chance.runs:,} runs: the chance is more than {low}."
    if chance.met is None:
        return f"It cannot be told apart from the wanted chance by {chance.runs:,} runs."
    return f"Decided by {chance.runs:,} runs, which mislead once in {ODDS:,} times at most."


def _check_shares(work: Work, split: Shares | None) -> None:
    inputs = work.asked(Inputs)
    bad = None if split is None else abs(split.total - 100.0) > ROUNDING
    total = "" if split is None else work.text(split.total, "percent")
    work.verdict("shares", None if bad is None else not bad, needs=("share_notes",),
                 good="The ways to pay add up to 100%.", mend=_shares_mend(work, split) if bad else None,
                 bad=f"The ways to pay add up to {total}, not 100%. They were scaled to fit.",
                 note="" if inputs.share_cashless is None else "Leave cashless blank to take the rest.")  # fmt: skip


def _shares_mend(work: Work, split: Shares | None) -> Mend | None:
    """Cashless takes what is left; where nothing is left, coin buyers give way first."""
    if split is None:
        return None
    rest = max(0.0, 100.0 - split.notes)
    over = min(split.over, rest)
    exact = min(split.exact, rest - over)
    changed = [("share_over", over, split.over), ("share_exact", exact, split.exact)]
    parts = [work.mend(key, part) for key, part, was in changed if part != was]
    cashless = max(0.0, rest - over - exact)
    return work.mends(*parts, work.mend("share_cashless", cashless))
