"""The tubes: what each holds, whether the coins fit, and the marks below which notes go off."""

from __future__ import annotations

from ..core import Work
from .coinage import Coin, size_path
from .inputs import Inputs
from .plan import Case, money_of


def place(work: Work, number: int) -> str:
    """A tube's name in checks: it keeps its number whatever it holds."""
    return f"Tube {number + 1}"


def rooms(work: Work, coins: dict[str, Coin]) -> list[int | None]:
    """How many coins each tube holds; None while its coin or its height is unknown."""
    inputs = work.asked(Inputs)
    return [_room(work, number, coins) for number in range(len(inputs.tubes))]


def _room(work: Work, number: int, coins: dict[str, Coin]) -> int | None:
    inputs = work.asked(Inputs)
    tube = inputs.tubes[number]
    path = f"tubes.{number}"
    coin = coins.get(tube.coin or "")
    name = f": {coin.many}" if coin else ""
    work.section(f"{place(work, number)}{name}")
    if tube.capacity is not None:
        return int(work.take(f"{path}.capacity") or 0)
    if tube.height is None or coin is None:
        return None
    work.take(f"{path}.height")
    work.given("t", "Thickness of the coin at its rim", coin.thickness, "length",
               note=coin.cited(work, "coins.table", "thickness_mm"))  # fmt: skip
    # A millionth of a coin keeps 40 coins 40 where the division gives 39.9999999.
    work.step("n", "New coins that go in", "floor(h / t + 0.000001)", "count", rule="coins.table")
    work.rule("q", "coins.stack_caution")
    room = work.step("C", "Coins counted on, for worn and dirty ones", "n - ceil(n*q - 0.000001)",
                     "count", rule="coins.stack_caution")  # fmt: skip
    return None if room is None else max(0, int(room))


NO_THICKNESS = " This rule set has no thickness for that coin: give how many the tube holds."


def check_fit(work: Work, coins: dict[str, Coin], room: list[int | None]) -> None:
    """Each tube must be able to hold the coins that are said to be in it."""
    inputs = work.asked(Inputs)
    if all(tube.count is None for tube in inputs.tubes):
        return  # the plan fills them, and never past their room
    for number, tube in enumerate(inputs.tubes):
        path, size = f"tubes.{number}", size_path(number, tube, coins)
        unsized = size.endswith("capacity") and tube.capacity is None
        work.check("fit", tube.count, room[number], at=place(work, number),
                   needs=(f"{path}.coin", size, f"{path}.count"),
                   mend=work.mend(f"{path}.count", room[number], "at most", how="Take coins out."),
                   note="Coins past the tube’s room fall into the coin box and are not change."
                   + (NO_THICKNESS if unsized else ""))  # fmt: skip


def check_marks(work: Work, room: list[int | None], case: Case | None) -> None:
    """No tube may start below its low mark, or notes are off from the first sale."""
    inputs = work.asked(Inputs)
    laid = _laid(case)
    planning = all(tube.count is None for tube in inputs.tubes)
    for number, tube in enumerate(inputs.tubes):
        if tube.low is None:
            continue
        path = f"tubes.{number}"
        count = laid.get(number) if planning else tube.count
        fits = room[number] is not None and tube.low <= (room[number] or 0)
        mend = work.mend(f"{path}.count", tube.low, "at least", how="Load coins.") if fits else (
            work.mend(f"{path}.low", count, "at most", how="Lower the mark."))  # fmt: skip
        work.check("low", count, tube.low, at=place(work, number), mend=mend,
                   needs=() if planning else (f"{path}.count",), note=_mark_note(planning))  # fmt: skip
    _check_money(work, case)


def _laid(case: Case | None) -> dict[int, int]:
    """Coins in each tube as the plan lays them."""
    if case is None:
        return {}
    laid: dict[int, int] = {}
    for stack, count in zip(case.held, case.planned, strict=True):
        laid.update(stack.spread(count))
    return laid


def _mark_note(planning: bool) -> str:
    start = "With the planned load." if planning else "As the tubes stand now."
    return f"{start} Below the mark bills are refused from the first sale on."


def _check_money(work: Work, case: Case | None) -> None:
    inputs = work.asked(Inputs)
    if inputs.low_value is None:
        return
    money = None
    if case is not None:
        money = money_of(case.held, case.planned if case.planning else case.now)
    needs = [f"tubes.{number}.count" for number in range(len(inputs.tubes))]
    mend = None if money is None else work.mend("low_value", int(money), how="Lower the mark.")
    work.check("low_value", money, inputs.low_value, mend=mend, needs=("tubes", *needs),
               note="Or load coins: below the mark bills are refused from the first sale on.")  # fmt: skip
