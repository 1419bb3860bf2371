"""What the reader gets: the chance and its working, values, tables."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..core import Work
from .boxes import Known
from .coinage import pack_name, packs
from .inputs import Inputs
from .judge import Chance
from .payout import divides
from .plan import Case, money_of
from .sequential import ONE_SIDED
from .simulate import Tally, Z

VALUES = ("chance", "error", "short", "loaded", "money", "mass", "rolls", "refused", "lost", "notes_off",
          "sure", "left", "bring", "coin_bank", "note_bank", "notes")  # fmt: skip
REASONS = {
    "change": "no change for it", "low mark": "bills off at a low mark", "note box": "bill box full",
    "coin box": "coin box full", "price": "the price cannot be paid so",
}  # fmt: skip
ONE_IN_TWENTY = 0.05  # the share of visits that a “worst” leaves below it

Rows = list[tuple[str, ...]]


@dataclass
class Ends:
    """Coins in each tube at the next visit: the mean, and the worst of one visit in twenty."""

    mean: list[float]
    worst: list[int]
    fallen: list[float]


def ends_of(case: Case) -> Ends:
    """The last states of all runs, tube by tube."""
    tally = case.tally
    by_tube = list(zip(*tally.ends, strict=True))
    place = math.floor(ONE_IN_TWENTY * tally.runs)
    return Ends(
        [sum(counts) / tally.runs for counts in by_tube],
        [sorted(counts)[place] for counts in by_tube],
        [count / tally.runs for count in tally.fallen],
    )


def chance_text(work: Work, chance: Chance) -> str:
    """A chance as it may be printed: where no run, or every one, saw a refusal only a bound is known."""
    if chance.flawless:
        return f"more than {work.text(100 * chance.low, 'chance', 'down')}"
    if chance.runs and not chance.clean:
        return f"less than {work.text(100 * chance.high, 'chance', 'up')}"
    return work.text(100 * chance.value, "chance", "down")


def working_chance(work: Work, case: Case) -> None:
    """How the chance follows from the runs, and how far it may be off."""
    chance = case.chance
    work.section("Chance that nobody is turned away")
    if not chance.runs:
        work.given("P", "Chance, worked out exactly over every state of the tubes",
                   100 * chance.value, "chance")  # fmt: skip
        return
    work.given("R", "Runs of buyers until the visit, played with a fixed seed", chance.runs, "count")
    work.given("x", "Runs in which nobody was turned away", chance.clean, "count")
    if chance.flawless:
        work.given("α", "How often so many clean runs may come by luck", ONE_SIDED, "ratio",
                   "as a value three standard errors off")  # fmt: skip
        work.step("P", "What the chance is more than (Clopper and Pearson)", "100 * α**(1 / R)", "chance")
        return
    work.step("P", "Chance", "100 * x / R", "chance")
    work.step("E", "Standard error (two of each outcome added, so that it is never 0)",
              "100 * sqrt((x + 2) * (R - x + 2)) / (R + 4) / sqrt(R)", "chance")  # fmt: skip
    work.given("z", "Width of the interval in standard errors", Z, "count")
    work.step("L", "Low end of Wilson’s interval",
              "100 * (x + z**2/2 - z*sqrt(x*(R - x)/R + z**2/4)) / (R + z**2)", "chance")  # fmt: skip


def standard_error(chance: Chance) -> Known:
    """The standard error of a chance in percent, as :func:`working_chance` prints it; none of a bound."""
    runs, clean = chance.runs, chance.clean
    if not runs:
        return 0.0
    if chance.flawless:
        return None
    return 100 * math.sqrt((clean + 2) * (runs - clean + 2)) / (runs + 4) / math.sqrt(runs)


def _sure_part(chance: Chance) -> tuple[float, float]:
    """A chance in percent as a value gives it, a bound where only that is known, and how far it may be off."""
    if chance.flawless:
        return 100 * chance.low, 0.0
    return 100 * chance.value, 100 * (chance.value - chance.low)


def working_load(work: Work, case: Case) -> tuple[float, float]:
    """Money and mass of the rolls, coin by coin; gives both (cents, grams)."""
    money, mass = [], []
    for stack, rolls in zip(case.held, case.plan.rolls if case.plan.met else (), strict=False):
        if rolls:
            coin = stack.coin
            work.section(f"To load: {packs(work, rolls, coin)}")
            work.given("r", pack_name(work, 2).capitalize(), rolls, "count")
            work.given("b", f"Coins in a {pack_name(work, 1)}", coin.roll, "count",
                       note=coin.cited(work, "coins.rolls", "roll"))  # fmt: skip
            work.given("w", "Worth of a coin", coin.value, "money",
                       note=coin.cited(work, "coins.table", "value"))  # fmt: skip
            work.given("g", "Weight of a coin", coin.mass, "small_mass",
                       note=coin.cited(work, "coins.table", "mass_g"))  # fmt: skip
            money.append(work.step("V", "Money", "r*b*w", "money") or 0.0)
            mass.append(work.step("M", "Weight", "r*b*g", "small_mass") or 0.0)
    return math.fsum(money), math.fsum(mass)


def working_switch_off(work: Work, tally: Tally, part: Known) -> Known:
    """Sales until notes are first refused in one visit of twenty; None where they stay on."""
    rank = math.floor(ONE_IN_TWENTY * tally.runs)
    if len(tally.notes_off) <= rank or not part:
        return None
    work.section("Until bills are refused")
    work.given("f", "Part of sales paid in cash", part, "ratio")
    work.given("p", "Cash sales before the first refused bill, one visit in twenty",
               sorted(tally.notes_off)[rank], "count")  # fmt: skip
    return work.step("Q", "All sales until then", "floor(p / f + 0.000001)", "count")


def give_values(work: Work, case: Case, ends: Ends, part: Known) -> None:
    """Every value the calculator promises, for known inputs."""
    inputs = work.asked(Inputs)
    setup, tally, runs = case.judge.setup, case.tally, case.tally.runs
    money, mass = working_load(work, case)
    chance = _sure_part(case.chance)
    refused = tally.refused.total() / runs
    lost = sum(count * setup.sales[sale].price for sale, count in tally.refused.items()) / runs
    served = {sale: count - tally.refused[sale] for sale, count in tally.came.items()}
    notes = sum(count * setup.sales[sale].notes for sale, count in served.items())
    note_money = sum(count * setup.sales[sale].notes * setup.sales[sale].note
                     for sale, count in served.items())  # fmt: skip
    loose = sum(count * setup.sales[sale].loose_value for sale, count in served.items())
    short = [start - mean for start, mean in zip(case.shown, ends.mean, strict=True)]
    found: dict[str, tuple[Known, float]] = {
        "chance": chance,
        "error": (standard_error(case.chance), 0.0),
        "short": (100 - chance[0], 0.0 if case.chance.flawless else 100 * (case.chance.high - case.chance.value)),
        "loaded": _sure_part(case.loaded),
        "money": (money if case.plan.met else None, 0.0),
        "mass": (mass if case.plan.met else None, 0.0),
        "rolls": (sum(case.plan.rolls) if case.plan.met else None, 0.0),
        "refused": (refused, 0.0),
        "lost": (lost if inputs.refused == "leaves" else 0.0, 0.0),
        "notes_off": (working_switch_off(work, tally, part), 0.0),
        "sure": (case.sure, 0.0),
        "left": (money_of(case.held, ends.mean), 0.0),
        "bring": (money_of(case.held, [max(0.0, each) for each in short]), 0.0),
        "coin_bank": (money_of(case.held, ends.fallen) + loose / runs, 0.0),
        "note_bank": (note_money / runs, 0.0),
        "notes": (notes / runs, 0.0),
    }
    for key in VALUES:
        work.value(key, *found[key])


def give_tables(work: Work, case: Case, ends: Ends) -> None:
    """Rolls to load, coins at the next visit, what one more roll does, why buyers were refused."""
    _load_table(work, case)
    text, tally = work.text, case.tally
    rows: Rows = [
        (stack.coin.label, text(stack.room, "count"), "–" if stack.now is None else text(now, "count"),
         text(shown, "count"), text(mean, "average", "down"), text(worst, "count"))
        for stack, now, shown, mean, worst in zip(
            case.held, case.now, case.shown, ends.mean, ends.worst, strict=True)
    ]  # fmt: skip
    work.table("tubes", "Coins in the tubes", {
        "coin": "Coin", "room": "Room", "now": "Now", "start": "Start", "end": "At the visit, mean",
        "least": "Worst 1 in 20"}, rows,
               "Start: after loading. The worst is taken for each tube by itself.")  # fmt: skip
    _next_table(work, case, ends)
    _gain_table(work, case)
    if tally.refused:
        reasons: Rows = [(REASONS[name], text(count / tally.runs, "average", "up"))
                   for name, count in sorted(tally.reasons.items())]  # fmt: skip
        work.table("refused", "Buyers refused until the visit, on average", {"why": "Why", "buyers": "Buyers"}, reasons)


def _load_table(work: Work, case: Case) -> None:
    rows: Rows = []
    laid = zip(case.held, case.plan.rolls, case.now, case.planned, strict=True)
    for stack, rolls, now, then in laid if case.plan.met else ():
        if rolls:
            coins = rolls * stack.coin.roll
            rows.append((f"{rolls} {pack_name(work, rolls)}", stack.coin.label, str(then - now),
                         work.text(coins * stack.coin.value, "money"),
                         work.text(coins * stack.coin.mass, "small_mass", "up")))  # fmt: skip
    if not rows:
        word = "needed: enough is there" if case.plan.met else "of any coin will do"
        rows = [(f"No {pack_name(work, 0)}", word, "0", work.text(0, "money"), work.text(0, "small_mass"))]
    whole = pack_name(work, 0)
    work.table("rolls", "Coins to load", {
        "packs": whole.capitalize(), "coin": "Coin", "coins": "Coins that go in", "money": "Money",
        "mass": "Weight"}, rows,
               _load_note(work, case))  # fmt: skip


def _load_note(work: Work, case: Case) -> str:
    """Whether it is the least money, and which cheaper loads nobody can tell from one that will do."""
    plan, back = case.plan, "Coins that do not fit go back."
    if not plan.met:
        return ""
    if plan.open:
        return f"The safer of loads that cannot be told apart: this one surely will do. {_open(work, case)} {back}"
    if not plan.proven:
        why = "You stopped it" if case.judge.stopped else "There were too many loads to try them all"
        return f"A load that will do. {why}: it is not proven to be the least money. {back}"
    return f"The least money in whole {pack_name(work, 0)}: every cheaper load was tried. {back}"


def _open(work: Work, case: Case) -> str:
    """The loads that may do as well, by what the cheapest of them would save."""
    loads = case.plan.open
    least = case.money(loads[0])
    kind = "cheaper" if least < case.money(case.plan.rolls) else "other"
    shown = work.text(least, "money")
    which = f"One {kind} load, of {shown}, lies" if len(loads) == 1 else (
        f"{len(loads)} {kind} loads, from {shown} on, lie")  # fmt: skip
    return f"{which} too near the wanted chance to tell."


def _next_table(work: Work, case: Case, ends: Ends) -> None:
    """What each coin will be short of at the next visit, and what of it lies in the box."""
    text = work.text
    rows: Rows = []
    for stack, start, mean, worst, fallen in zip(
            case.held, case.shown, ends.mean, ends.worst, ends.fallen, strict=True):  # fmt: skip
        most = max(0, start - worst)
        number = -(-most // stack.coin.roll)
        rows.append((stack.coin.label, text(max(0.0, start - mean), "average", "up"), text(most, "count"),
                     f"{number} {pack_name(work, number)}", text(fallen, "average", "down")))  # fmt: skip
    work.table("next", "To bring and to bank next time", {
        "coin": "Coin", "bring": "Coins to bring, mean", "most": "Coins to bring, 1 visit in 20",
        "packs": f"In whole {pack_name(work, 0)}", "bank": "Coins to bank, mean"}, rows, "To be as full again as at the start.")  # fmt: skip


def _gain_table(work: Work, case: Case) -> None:
    """The chance as it stands, as planned, and with one more of each coin's rolls."""
    text = work.text
    rows: Rows = []
    for step in case.steps:
        name, money = "Empty tubes" if case.planning else "As the tubes stand", "–"
        if step.planned:
            name = "Loaded as planned" if case.plan.met else "Best load found"
            money = text(case.money(case.plan.rolls), "money")
        elif step.stack is not None:
            coin = case.held[step.stack].coin
            name, money = f"… and {packs(work, 1, coin)} more", text(coin.roll * coin.value, "money")
        rows.append((name, money, chance_text(work, step.chance)))
    note = "" if divides(case.judge.setup.coins) else (
        "More coins can also lower the chance, as one of these coins does not divide the next.")  # fmt: skip
    work.table("gains", "What each load buys", {
        "load": "Load", "money": "Money", "chance": "Chance that nobody is turned away"}, rows,
               note, detail=True)  # fmt: skip
