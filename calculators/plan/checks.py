"""The checks of a plan: is all known, does all fit, is every wish kept, is it proven the best."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..core import Work
from ..core.report import Mend
from .demand import MILLIONTHS
from .inputs import Inputs
from .model import Lane, faults
from .naming import find, name_of
from .outcome import Plan
from .setup import Setup, bearers, path_of, pin_of

PASSED = ("Each product passes in its lane all of spiral fit but how its first pack stands. That rests on where the coil’s end "
          "points: look at it in spiral fit.")  # fmt: skip
FEW = 3  # names that a row bears
NOUNS = {"products": "Product", "trays": "Tray", "coils": "Coil"}


def give(inputs: Inputs, work: Work, made: Setup, plan: Plan | None) -> None:
    """All checks, in the order a reader mends them."""
    _known(work, made)
    _names(inputs, work)
    if made.stopped and plan is None:
        work.verdict("placed", None, note="You stopped it before every coil was tried, so there is no plan yet.")
        return
    _pins(inputs, work, made, plan)
    _tests(inputs, work)
    _words(inputs, work)
    if plan is None:
        _nothing(inputs, work, made)
        return
    _fit(inputs, work, made)
    _placed(inputs, work, made, plan)
    _kept_apart(inputs, work, made, plan)
    _care(inputs, work, made, plan)
    _proven(work, plan, stopped=made.stopped)


def _known(work: Work, made: Setup) -> None:
    work.verdict("known", None if made.missing else True, needs=made.missing,
                 good="All that the plan rests on is known.",
                 note="What is not known is left out of the plan." if made.missing else "")  # fmt: skip


def _names(inputs: Inputs, work: Work) -> None:
    """Wishes and the crew tell rows apart by their names."""
    good = True
    for key, noun in NOUNS.items():
        rows = getattr(inputs, key)
        for number, row in enumerate(rows):
            if row.name and find(rows, row.name) != number:
                good = False
                work.verdict("names", False, at=f"{noun} {number + 1}", bad=f"“{row.name}” is named twice.",
                             mend=work.mend(f"{key}.{number}.name", _fresh(rows, row.name)))  # fmt: skip
    if good and inputs.products:
        work.verdict("names", True, good="No name stands twice.")


def _fresh(rows: Sequence[Any], name: str) -> str:
    """A name that no row bears; a very long one is cut short to leave room for the number."""
    number = 2
    while find(rows, f"{name[:100]} ({number})") is not None:
        number += 1
    return f"{name[:100]} ({number})"


# -- lanes that are kept --------------------------------------------------------------------


def _pins(inputs: Inputs, work: Work, made: Setup, plan: Plan | None) -> None:
    filled = {(lane.tray, lane.lane): lane for lane in plan.lanes} if plan else {}
    for number, (row, pin) in enumerate(zip(inputs.pins, made.pins, strict=True)):
        at = f"Keep here {number + 1}"
        _spot(inputs, work, number, row, at)
        if pin is not None:
            product, spot = pin
            name = name_of(inputs.products, product, "Product")
            lane = filled.get(spot)
            kept: bool | None = lane is not None and lane.product == product
            asked = _barring(inputs, made, lane) if kept and lane else made.missing
            if (kept and asked) or (kept is False and _may_yet_fit(made, product, spot[0])):
                kept = None
            work.verdict("pins", kept, at=at, needs=asked, good=f"{name} keeps its lane.",
                         bad=f"{name} cannot keep its lane.", instead=_why(made, product, spot[0]))  # fmt: skip


def _barring(inputs: Inputs, made: Setup, lane: Lane) -> list[str]:
    """What is not measured and may still keep a product out of the lane it has."""
    found = made.fits[lane.product][lane.tray][lane.coil].needs
    return [path_of(inputs, key, lane.product, lane.tray, lane.coil) for key in found]


def _may_yet_fit(made: Setup, product: int, tray: int) -> bool:
    """Whether it is out of the plan, or of that tray, only for what is not known of it."""
    fits = made.fits[product][tray]
    if any(each.pieces for each in fits):
        return made.means[product] is None
    return not fits or any(each.needs for each in fits)


def _why(made: Setup, product: int, tray: int) -> str:
    fits = made.fits[product][tray]
    if any(each.pieces for each in fits):
        return "Another kept lane, a pair kept apart or the coils in stock leave no room: take one of them out."
    why = made.barred[product][tray] or "no coil in stock takes it there"
    return f"It may not lie there: {why}. Keep it in another tray."


def _spot(inputs: Inputs, work: Work, number: int, row: Any, at: str) -> None:
    needs = [f"pins.{number}.{key}" for key in ("product", "tray", "lane") if not getattr(row, key)]
    needs += [path for path in ("products", "trays") if not getattr(inputs, path)]
    tray = find(inputs.trays, row.tray)
    if tray is not None and inputs.trays[tray].lanes is None:
        needs.append(f"trays.{tray}.lanes")
    if _lost(inputs.products, row.product) or _lost(inputs.trays, row.tray):
        needs = []  # whatever the lane is
    there = pin_of(row, inputs) is not None
    mend = None if needs or there else _named(inputs, work, number, row)
    work.verdict("spots", None if needs else there, at=at, needs=needs, mend=mend,
                 good="The product, the tray and the lane are there.",
                 bad="There is no such product, tray or lane.",
                 instead="Write product and tray as they are named above.")  # fmt: skip


def _lost(rows: list[Any], name: str | None) -> bool:
    """Whether none of the rows bears a name, and each has one of its own."""
    return bool(rows and name) and find(rows, name) is None and all((row.name or "").strip() for row in rows)


def _named(inputs: Inputs, work: Work, number: int, row: Any) -> Mend | None:
    """The lane brought down to the last one there is; a wrong name cannot be guessed."""
    tray = find(inputs.trays, row.tray)
    if tray is None or find(inputs.products, row.product) is None:
        return None
    return work.mend(f"pins.{number}.lane", inputs.trays[tray].lanes)


def _tests(inputs: Inputs, work: Work) -> None:
    """Tests by hand that name nothing would be lost without a word."""
    good = True
    for number, row in enumerate(inputs.tried):
        needs = [f"tried.{number}.{key}" for key in ("product", "coil", "verdict") if not getattr(row, key)]
        needs += [path for path in ("products", "coils") if not getattr(inputs, path)]
        if needs or find(inputs.products, row.product) is None or find(inputs.coils, row.coil) is None:
            good = False
            work.verdict("tests", None if needs else False, at=f"Tried by hand {number + 1}", needs=needs,
                         bad="There is no such product or coil.",
                         instead="Write product and coil as they are named above.")  # fmt: skip
    if good and inputs.tried:
        work.verdict("tests", True, good="Every test names a product and a coil that are there.")


def _words(inputs: Inputs, work: Work) -> None:
    for number, row in enumerate(inputs.apart):
        at = f"Keep apart {number + 1}"
        needs = [f"apart.{number}.{key}" for key in ("first", "second") if not getattr(row, key)]
        idle = [word for word in (row.first, row.second) if not bearers(inputs, word)]
        work.verdict("words", None if needs else not idle, at=at, needs=needs,
                     good=f"“{row.first}” and “{row.second}” are words of your products.",
                     bad=f"No product bears “{', '.join(str(word) for word in idle)}”.",
                     instead="Look at the spelling: it must stand so among a product’s words, or be its name.")  # fmt: skip


# -- the plan itself ------------------------------------------------------------------------


def _nothing(inputs: Inputs, work: Work, made: Setup) -> None:
    """No product fits anywhere: not known yet where something is still asked for, else a stop with the reasons."""
    if _fitting_nowhere(made):
        _fit(inputs, work, made)
    whys = dict.fromkeys(each.why for trays in made.fits for coils in trays for each in coils if each.why)
    # What goes in nowhere does so in no number of days.
    empty = not any(each.pieces for trays in made.fits for coils in trays for each in coils)
    asked = [path for path in made.missing if path != "days" or not empty]
    work.verdict("placed", None if asked or (made.missing and not whys) else False, needs=asked or made.missing,
                 bad=f"No coil in stock takes any product in any tray: {', '.join(whys)}.",
                 instead="Look at each product in spiral fit: it names the coil or lane that would do.")  # fmt: skip


def _fit(inputs: Inputs, work: Work, made: Setup) -> None:
    """Products that no coil in stock takes in any tray; their spiral fit says more."""
    out = _fitting_nowhere(made)
    names = ", ".join(name_of(inputs.products, p, "Product") for p in out)
    work.verdict("fits", not out, good="Each fits some tray with some coil in stock.",
                 bad=f"No coil in stock takes in any tray: {names}.",
                 instead="Look at each in spiral fit: it names the coil or lane that would do.")  # fmt: skip


def _fitting_nowhere(made: Setup) -> list[int]:
    return [p for p, trays in enumerate(made.problem.holds) if made.means[p] is not None
            and not any(any(coils) for coils in trays) and not _unknown(made, p)]  # fmt: skip


def _unknown(made: Setup, product: int) -> bool:
    return any(each.needs for coils in made.fits[product] for each in coils)


def _placed(inputs: Inputs, work: Work, made: Setup, plan: Plan) -> None:
    placed = {lane.product for lane in plan.lanes}
    lost = [p for p in _fitting_nowhere(made) if inputs.products[p].must]
    out = [p for p, trays in enumerate(made.problem.holds) if p not in placed and (p in lost or any(map(any, trays)))]
    must = [p for p in out if inputs.products[p].must]
    names = ", ".join(name_of(inputs.products, p, "Product") for p in out)
    # A tray or coil that is not told yet may hold what must be sold; what is not measured may keep it out of its lanes.
    asked = [path for path in made.missing if path.startswith(("trays", "coils"))] if must else _wanting(inputs, made, plan)
    work.verdict("placed", None if asked else not out, soft=not must, needs=asked, good="Each product that fits has a lane.",
                 bad=f"No lane for {names}.",
                 instead="Mark a product “must be sold”, allow fewer lanes for each, or leave it out." if not must else
                 "No coil in stock takes one that must be sold: look at it in spiral fit." if lost else
                 "Lanes, coils or pairs kept apart leave no room for one that must be sold.")  # fmt: skip


def _wanting(inputs: Inputs, made: Setup, plan: Plan) -> list[str]:
    """What may keep one that must be sold out of every lane it has."""
    lanes: dict[int, list[list[str]]] = {}
    for lane in plan.lanes:
        if inputs.products[lane.product].must:
            lanes.setdefault(lane.product, []).append(_barring(inputs, made, lane))
    return list(dict.fromkeys(path for found in lanes.values() if all(found) for each in found for path in each))


def _kept_apart(inputs: Inputs, work: Work, made: Setup, plan: Plan) -> None:
    if inputs.apart:
        wrong = [fault for fault in faults(made.problem, plan.lanes) if "pair" in fault]
        work.verdict("apart", not wrong, good="No pair that must be kept apart lies close together.",
                     bad=f"Found: {', '.join(wrong)}.", instead="Do not load it so.")  # fmt: skip


def care_of(made: Setup, lane: Lane) -> str:
    """What to mind in a lane: the checks of spiral fit that do not pass there."""
    found = made.fits[lane.product][lane.tray][lane.coil]
    words = list(found.care) + [f"{label} (not known)" for label in found.unknown]
    return "; ".join(words)


def _care(inputs: Inputs, work: Work, made: Setup, plan: Plan) -> None:
    blank = [lane for lane in plan.lanes if made.fits[lane.product][lane.tray][lane.coil].unknown]
    if blank:
        goods = dict.fromkeys(name_of(inputs.products, lane.product, "Product") for lane in blank)
        asked = dict.fromkeys(path for lane in blank for path in _barring(inputs, made, lane))
        work.verdict("care", None, needs=list(asked), at=", ".join(goods) if len(goods) <= FEW else f"{len(goods)} products",
                     note="What is not measured may keep a product out of its lane.")  # fmt: skip
    minded = [lane for lane in plan.lanes if made.fits[lane.product][lane.tray][lane.coil].care]
    if blank and not minded:
        return
    names = dict.fromkeys(name_of(inputs.products, lane.product, "Product") for lane in minded)
    work.verdict("care", not minded, good=PASSED, bad=f"Something to mind with {', '.join(names)}: see the table.",
                 instead="Lift three packs by hand and run ten test sales before you sell from it.")  # fmt: skip


def _proven(work: Work, plan: Plan, *, stopped: bool) -> None:
    """Whether a better plan could be found, by how much at most, and why it was not looked for."""
    lead = "You stopped it" if stopped else "The search ended at its limit"
    if plan.sales_bound is None:
        bad = f"{lead}: more of your wishes might be kept."
    else:
        gap = work.text(plan.sales_bound - plan.worth / MILLIONTHS, "average", "up")
        bad = f"{lead}: this plan is within {gap} sales of the best possible."
    work.verdict("proven", plan.proven, good="Proven: no plan sells more.", bad=bad, instead=(
        "Use it as it stands, or start again and let it run to its end." if stopped else
        "Use it as it stands, or keep fewer pairs apart."))  # fmt: skip
