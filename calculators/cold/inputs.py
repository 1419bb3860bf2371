"""What cold holding asks for: the cabinet, the readings, the dates, and what else decides whether food may be sold."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Day, Flag, Log, Moment, Quantity, Record, Rows, Text

PROBE = 1.0  # °C; what a food thermometer is good for
FREEZING = 0.0  # °C; water's, and food freezes a little below it: what is warmer is not hard
COLDEST, WARMEST = -60.0, 80.0  # °C; what lies outside is a fault of the instrument

COOLING = {"chilled": "Chilled", "frozen": "Frozen", "ambient": "None, room temperature"}
OF = {"food": "Food, or a probe between packs", "air": "The cabinet's air"}
ORDERS = {"day": "Day first: 28/11/2026", "month": "Month first: 11/28/2026"}
SCALES = {"c": "°C", "f": "°F"}
SHUTOFF = {
    "quiet": "It has one, and it has not tripped since",
    "proved": "It tripped; it was reset after the cause was fixed, and proved",
    "none": "It has none",
    "tripped": "It has tripped",
    "failed": "It did not trip though the cabinet was warm",
}  # fmt: skip
PLANS = {
    "none": "No time plan",
    "time": "A time plan for this food, written before",
    "watched": "A time plan with the warmest part watched",
}  # fmt: skip
DATED = {"kitchen": "Made in a kitchen", "pack": "A maker's date on the pack", "none": "No date on it"}
KINDS = {"use_by": "Use by, or another date for safety", "best_before": "Best before, for quality"}
STATES = {
    "never": "Never frozen",
    "thawed": "It was frozen, and has thawed",
    "frozen": "It is frozen now",
    "again": "It thawed, and was frozen again",
}  # fmt: skip
KITCHEN = ("dated", ("kitchen",))
PACK = ("dated", ("pack",))


def _temperature(label: str, symbol: str, text: str, **more: Any) -> Quantity:
    return Quantity(label, help=text, kind="temperature", symbol=symbol, least=COLDEST, most=WARMEST, worse="more",
                    tolerance=PROBE, **{"example": 3.0, **more})  # fmt: skip


class Reading(Record):
    """One reading that somebody wrote down."""

    at = Moment("Day and time", help="When it was read.", example=14_152_950)
    degrees = _temperature("Temperature", "T", "What the thermometer showed.")


class Lot(Record):
    """Packs that bear one date."""

    name = Text("What it is", help="A few words, such as: egg sandwiches.")
    dated = Choice("Its date", DATED, help="What stands on the pack. Food from our own kitchen bears the day it was made.")
    made = Day("Made or opened", when=KITCHEN, worse="less", example=9_827,
               help="The day it was made in the kitchen; of a pack from a factory that was opened, the day it was opened.")  # fmt: skip
    date = Day("Date on the pack", when=PACK, worse="less", example=9_840, help="The earliest, where there are several.")
    date_kind = Choice("That date is", KINDS, when=PACK, default="use_by",
                       help="If it does not say which, it is one for safety.")  # fmt: skip
    state = Choice("Frozen", STATES, default="never", help="Freezing stops the count of days. It does not turn it back.")
    frozen = Day("Frozen on", when=("state", ("thawed", "frozen")), worse="more", example=9_828,
                 help="That day counts as a day in the cold.")  # fmt: skip
    thawed = Day("Thawed on", when=("state", ("thawed",)), worse="less", example=9_830,
                 help="The day it was taken out to thaw. That day counts.")  # fmt: skip
    keeps = Quantity("Keeps after thawing", kind="days", symbol="K", when=("state", ("thawed",)), least=1, most=400, worse="less",
                     example=7, help="Days, as a maker's pack says. Of food of our own kitchen it is not asked.")  # fmt: skip


class Inputs(Record):
    """The whole form. Times are those of a clock on the wall."""

    cooling = Choice("Cabinet", COOLING, first=True, card=True, help="What its card says.")
    now = Moment("Now", first=True, example=14_152_965, worse="more", help="Day and time of this answer.")
    put_in = Moment("Put in", first=True, example=14_152_855, worse="less",
                    help="When this food went into the cabinet. Of several lots, the first.")  # fmt: skip
    log = Log("Log of temperatures", group="Log of an instrument",
              help="Lines with day, time and temperature, pasted or opened as a file. It stays in this page.")  # fmt: skip
    readings = Rows("Readings written down", Reading, "reading", most=24, first=True, group="Readings written down",
                    help="From the visit sheet or the display. The last cold one, and all since.")  # fmt: skip
    lots = Rows("Dates", Lot, "lot", most=12, first=True, group="Dates", brief=("name", "dated", "made", "date", "state"),
                help="One for each date. Food made of several things bears the earliest date of them.")  # fmt: skip

    # Neither is the worse: food has no grace, and the cabinet's thermometer is farther off than one for food.
    measured = Choice("Readings are of", OF, group="About the readings", help="After loading, air has a short grace. Food has none.")
    loaded = _temperature("Food when it was put in", "T_0", "Read between two packs, before it went into the cabinet.",
                          group="About the readings")  # fmt: skip
    filled = Moment("Last filled or serviced", group="About the readings", example=14_152_900,
                    help="Later than “Put in”, where the door stood open again to load. Left blank: not since.")  # fmt: skip
    date_order = Choice("Dates in the log", ORDERS, group="Log of an instrument",
                        help="Asked only where a date such as 03/04/2026 could be two days.")  # fmt: skip
    log_scale = Choice("Numbers in the log", SCALES, group="Log of an instrument",
                       help="Asked only where neither its heading nor its cells say °C or °F.")  # fmt: skip

    pack_names = Flag("The pack names a temperature", group="Pack, shutoff and plan", worse=("no", "yes"),
                      help="Such as: keep below 3 °C. If it is lower than the rule's, it counts.")  # fmt: skip
    pack_limit = Quantity("Temperature on the pack", kind="temperature", symbol="T_pack", least=COLDEST, most=WARMEST,
                          when=("pack_names", ("yes",)), worse="less", example=3.0, group="Pack, shutoff and plan",
                          help="The warmest that it allows.")  # fmt: skip
    # No order of worse ones: one that stayed quiet stands for the cold between readings, and has failed where it was warm.
    shutoff = Choice("Food-safety shutoff", SHUTOFF, group="Pack, shutoff and plan",
                     help="What stops sales by itself when food gets warm.")  # fmt: skip
    plan = Choice("Time plan", PLANS, default="none", group="Pack, shutoff and plan",
                  help="A paper that the office wrote before, for this food.")  # fmt: skip
    marked = Flag("Its end time stands on each pack", when=("plan", ("time", "watched")), worse=("yes", "no"),
                  group="Pack, shutoff and plan", help="Under a time plan, a pack without it is thrown out.")  # fmt: skip
    hard = Flag("Frozen hard all the time", when=("cooling", ("frozen",)), worse=("yes", "no"),
                group="Pack, shutoff and plan", help="No pack is soft, misshapen, or wet with ice again.")  # fmt: skip

    life_days = Quantity("Shelf life as tested", kind="days", symbol="L", least=0.5, most=400, example=10,
                         group="Estimate of shelf life", help="Days, at the temperature beside it. From whoever tested it.")  # fmt: skip
    life_at = Quantity("Tested at", kind="temperature", symbol="T_ref", least=-5, most=40, example=4.0,
                       group="Estimate of shelf life", help="The temperature of that test.")  # fmt: skip
    q10 = Quantity("Q10", kind="ratio", symbol="Q", least=1, most=20, example=2.0, group="Estimate of shelf life",
                   help="How many times faster it spoils when it is 10 °C (18 °F) warmer, as tested.")  # fmt: skip
