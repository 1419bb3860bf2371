"""What the reader gets: the figures of the plan, its working, and the tables to load by."""

from __future__ import annotations

from dataclasses import dataclass

from ..core import Work
from .checks import care_of
from .demand import MILLIONTHS, sold_out
from .idle import why_empty
from .inputs import Inputs
from .model import Lane
from .naming import name_of
from .outcome import Plan
from .setup import DAYS_A_WEEK, Setup

VALUES = ("sales", "wanted", "served", "bound", "filled", "empty", "pieces", "buy")
EMPTY = "(empty)"
Rows = list[tuple[str, ...]]
LEAST_GAIN = 0.1  # sales until the visit; a till counts whole ones


@dataclass(frozen=True)
class Bought:
    """Kinds of coil, and the best plan with one more of each; ``stopped`` before all were tried."""

    plans: list[tuple[int, Plan]]
    stopped: bool = False


def give(inputs: Inputs, work: Work, made: Setup, plan: Plan | None, bought: Bought) -> None:
    """Working, values and tables; without a plan all values are unknown."""
    work.section("Until the next visit")
    work.take("days")
    for number in range(len(inputs.coils)):
        _coil(inputs, work, number)
    for number in range(len(inputs.trays)):
        _tray(inputs, work, number)
    for number in range(len(inputs.products)):
        _product(inputs, work, made, plan, number)
    if plan is None:
        for key in VALUES:
            work.value(key, None)
        return
    _values(work, made, plan, bought)
    _lanes(inputs, work, made, plan)
    _products(inputs, work, made, plan)
    _coils(inputs, work, made, plan)
    _buys(inputs, work, plan, bought)


def room(made: Setup, plan: Plan, product: int) -> int:
    """Pieces all lanes of a product hold."""
    return sum(made.problem.holds[lane.product][lane.tray][lane.coil]
               for lane in plan.lanes if lane.product == product)  # fmt: skip


def sales(made: Setup, plan: Plan, product: int) -> float:
    """Expected sales of a product in the plan."""
    return made.problem.products[product].gain(room(made, plan, product)) / MILLIONTHS


def _coil(inputs: Inputs, work: Work, number: int) -> None:
    work.section(name_of(inputs.coils, number, "Coil"))
    work.take(f"coils.{number}.coil_count", "N")
    for path in ("usable_length", "turns_per_sale", "end_empty"):
        work.take(path)
    work.step("p", "Pitch: from one turn to the next", "L / N", "length")
    work.step("n", "Pieces a lane holds with it", "max(floor((N - N_empty) / k), 0)", "count")


def _tray(inputs: Inputs, work: Work, number: int) -> None:
    work.section(name_of(inputs.trays, number, "Tray"))
    work.take(f"trays.{number}.lanes")
    work.take(f"trays.{number}.lane_width")
    work.step("w_all", "Width of its lanes together", "n_lanes * w", "length")


def _product(inputs: Inputs, work: Work, made: Setup, plan: Plan | None, number: int) -> None:
    work.section(name_of(inputs.products, number, "Product"))
    work.take(f"products.{number}.weekly_sales")
    work.given("W", "Days in a week", DAYS_A_WEEK, "count")
    work.step("m", "Pieces wanted until the visit, on average", "s * T / W", "ratio")
    if plan is None or made.means[number] is None:
        return
    pieces = [made.problem.holds[number][lane.tray][lane.coil] for lane in plan.lanes if lane.product == number]
    for place, count in enumerate(pieces, 1):
        work.given(f"n_{place}", f"Pieces in its lane {place}", count, "count", "turns of the coil over turns a sale")
    work.step("C", "Pieces in all its lanes", " + ".join(f"n_{place}" for place in range(1, len(pieces) + 1)) or "0 * W", "count")
    work.given("E", "Expected sales", sales(made, plan, number), "ratio",
               "buyers by chance (Poisson): the sum, over the C pieces, of the chance that so many are wanted")  # fmt: skip
    work.step("u", "Wanted but not there, on average", "max(m - E, 0)", "ratio")


def _values(work: Work, made: Setup, plan: Plan, bought: Bought) -> None:
    wanted = made.means
    total = sum(round(MILLIONTHS * mean) for mean in wanted if mean is not None)
    lanes = sum(made.problem.lanes)
    found: dict[str, float | None] = {
        "sales": plan.worth / MILLIONTHS,
        "wanted": total / MILLIONTHS,
        "served": 100 * plan.worth / total if total else None,
        "bound": plan.sales_bound,
        "filled": len(plan.lanes),
        "empty": lanes - len(plan.lanes),
        "pieces": sum(made.problem.holds[lane.product][lane.tray][lane.coil] for lane in plan.lanes),
        "buy": (bought.plans[0][1].worth - plan.worth) / MILLIONTHS if bought.plans else None,
    }
    for key in VALUES:
        work.value(key, found[key])


def _lanes(inputs: Inputs, work: Work, made: Setup, plan: Plan) -> None:
    by = {(lane.tray, lane.lane): lane for lane in plan.lanes}
    rows: Rows = []
    for tray, count in enumerate(made.problem.lanes):
        for place in range(count):
            lane = by.get((tray, place))
            rows.append(_lane(inputs, made, lane, tray, place) if lane else
                        (name_of(inputs.trays, tray, "Tray"), str(place + 1), EMPTY, "–", "0", why_empty(made, plan, tray, place)))  # fmt: skip
    work.table("lanes", "Lane by lane", {"tray": "Tray", "lane": "Lane", "product": "Product", "coil": "Coil",
                                        "pieces": "Pieces", "mind": "Mind"}, rows,
               "Lanes are counted from the left, seen from the front.")  # fmt: skip


def _lane(inputs: Inputs, made: Setup, lane: Lane, tray: int, place: int) -> tuple[str, ...]:
    return (name_of(inputs.trays, tray, "Tray"), str(place + 1), name_of(inputs.products, lane.product, "Product"),
            name_of(inputs.coils, lane.coil, "Coil"),
            str(made.problem.holds[lane.product][lane.tray][lane.coil]), care_of(made, lane))  # fmt: skip


def _products(inputs: Inputs, work: Work, made: Setup, plan: Plan) -> None:
    rows: Rows = []
    for number, mean in enumerate(made.means):
        lanes = sum(lane.product == number for lane in plan.lanes)
        pieces = room(made, plan, number)
        if mean is None:
            rows.append((name_of(inputs.products, number, "Product"), "0", "0", "–", "–", "–"))
            continue
        out = work.text(sold_out(mean, pieces), "percent", "up") if lanes else "–"
        rows.append((name_of(inputs.products, number, "Product"), str(lanes), str(pieces),
                     work.text(mean, "average"), work.text(sales(made, plan, number), "average"), out))  # fmt: skip
    work.table("products", "Product by product", {
        "product": "Product", "lanes": "Lanes", "pieces": "Pieces", "wanted": "Wanted, mean", "sold": "Sold, mean",
        "out": "Chance it sells out"}, rows)  # fmt: skip


def _coils(inputs: Inputs, work: Work, made: Setup, plan: Plan) -> None:
    rows: Rows = []
    for kind, stock in enumerate(made.problem.stock):
        used = sum(lane.coil == kind for lane in plan.lanes)
        rows.append((name_of(inputs.coils, kind, "Coil"), str(used), str(stock), str(stock - used)))
    work.table("coils", "Coils to fit", {"coil": "Coil", "fitted": "Fitted", "stock": "In stock",
                                        "left": "Left over"}, rows,
               "A dual counts as one: the pair of coils of one lane.")  # fmt: skip


def _buys(inputs: Inputs, work: Work, plan: Plan, bought: Bought) -> None:
    rows: Rows = []
    for kind, more in bought.plans:
        at_most = "proven"
        if not more.proven and more.bound is not None:
            at_most = f"at most {work.text((more.bound - plan.worth) / MILLIONTHS, 'average', 'up')}"
        gain = work.text((more.worth - plan.worth) / MILLIONTHS, "average", "down")
        rows.append((name_of(inputs.coils, kind, "Coil"), gain, at_most))
    if rows:
        stopped = " You stopped it before every kind was tried." if bought.stopped else ""
        work.table("buys", "One more coil would gain", {
            "coil": "Coil", "sales": "More sales until the visit", "sure": "How sure"}, rows,
                   f"Each by itself, planned anew with one more of it. Kinds not used up gain nothing.{stopped}")  # fmt: skip
    kind, best = bought.plans[0] if bought.plans else (0, plan)
    gained = (best.worth - plan.worth) / MILLIONTHS
    if gained >= LEAST_GAIN:
        work.actions.append(f"The next coil to buy: {name_of(inputs.coils, kind, 'Coil')}, "
                            f"for {work.text(gained, 'average', 'down')} more sales until the visit.")  # fmt: skip
