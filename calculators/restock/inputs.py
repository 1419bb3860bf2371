"""What restocking asks for: the days, and each selection with what sells, what it holds and how long it keeps."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Money, Quantity, Record, Rows, Text

STOCKED = {
    "counted": "Counted: “on hand” says what is there",
    "filled": "Not counted: the last visit filled it up as below",
}
FILL = {
    "full": "Full, where the goods keep",
    "par": "Par: only what sells until the visit after",
}
NO_DATE = 2000  # days; what has no date is given as this


class SelectionRow(Record):
    """One product in this cabinet, all its lanes together."""

    name = Text("Name", help="What the crew calls it.", example="Still water")
    weekly_sales = Quantity("Sales a week", kind="ratio", symbol="s", least=0, most=5000, example=24, ends=True,
                            help="Pieces a week, if it never ran out. Where the cabinet’s sales a day are given: its "
                            "share of them.")  # fmt: skip
    capacity = Count("Full", symbol="C", least=1, most=400, example=12, worse="less",
                     help="Pieces in all its lanes when they are full.")  # fmt: skip
    lanes = Count("Lanes", symbol="l", least=1, most=20, example=2,
                  help="How many lanes it has now. Only for “lanes worth adding or giving up”.")  # fmt: skip
    on_hand = Count("On hand", symbol="n", least=0, most=400, example=5, ends=True,
                    help="Pieces in its lanes now. Blank where the last visit filled it up.")  # fmt: skip
    life_left = Count("Days left on its earliest date", symbol="e", least=0, most=NO_DATE, example=3, worse="less",
                      help="Of the packs in its lanes: 0 where today is the last day. Blank: as “dates looked "
                      "through” says.")  # fmt: skip
    perishable = Flag("Left over goes out", ends=True,
                      help="Yes if a pack that is left at a visit is thrown out then, because its date would come before "
                      "the visit after.")  # fmt: skip
    shelf_days = Count("Days a fresh pack keeps", symbol="F", least=1, most=NO_DATE, example=4, worse="less",
                       help=f"From the day it is loaded to its last day. {NO_DATE} where it has no date.")  # fmt: skip
    price = Money("Price", symbol="p", least=1, most=100_000, example=425, ends=True, help="What a buyer pays.")
    cost = Money("Cost", symbol="c", least=0, most=100_000, example=210, ends=True,
                 help="What a piece costs you, as delivered.")  # fmt: skip
    case_pieces = Count("Pieces in a case", symbol="k", least=1, most=10_000, example=12,
                        help="As it is packed for the van. Blank: loose pieces.")  # fmt: skip
    mass = Quantity("Mass of a piece", kind="small_mass", symbol="g", least=1, most=10_000, example=520,
                    help="Heavy cases go into the van first.")  # fmt: skip
    needs_cold = Flag("Must be kept cold", default=False, help="Then it goes into the van last, in the cold box.")


class Inputs(Record):
    """The whole form."""

    days = Quantity("Days to the planned visit", symbol="T", kind="days", least=0, most=60, example=4, first=True,
                    card=True, worse="more", group="Visits",
                    help="From the count, or from the last visit where nothing was counted. 0 where you stand there now.")  # fmt: skip
    cover = Quantity("Days from that visit to the next", symbol="V", kind="days", least=0.25, most=60, example=4,
                     first=True, worse="more", group="Visits",
                     help="What is loaded must last so long.")  # fmt: skip
    stocked = Choice("What is in it", STOCKED, default="counted", first=True, group="Visits",
                     help="Where nothing was counted, each selection counts as filled up, and fresh, at the last visit.")  # fmt: skip
    sales_per_day = Quantity("Sales a day, all selections", symbol="S", kind="per_day", least=0.1, most=300, example=20,
                             card=True, worse="more", group="Visits",
                             help="As the counters say. Blank: what the selections say for themselves.")  # fmt: skip
    selections = Rows("Selections", SelectionRow, "selection", brief=("name", "weekly_sales", "on_hand/capacity"), most=60,
                      first=True, group="Selections", help="One row a product; all its lanes together.",
                      example=[{"name": "Still water", "weekly_sales": 24, "capacity": 12, "on_hand": 5}])  # fmt: skip
    cleared = Flag("Dates looked through", worse=("yes", "no"), first=True, group="Dates",
                   help="Yes if everything was taken out at the last visit that would go past its date before the planned "
                   "one.")  # fmt: skip
    service = Quantity("Wanted chance that a selection lasts", symbol="w", kind="chance", least=50, most=99.9, example=95,
                       default=95.0, worse="more", group="How full",
                       help="95% means that about one visit in twenty finds it empty. For what is thrown out when left "
                       "over, price and cost decide instead.")  # fmt: skip
    fill = Choice("Fill up to", FILL, default="full", group="How full",
                  help="Full saves a visit; par keeps less money in the lanes.")  # fmt: skip


EXAMPLE: dict[str, Any] = {
    "days": 3, "cover": 4, "cleared": "yes",
    "selections": [
        {"name": "Still water", "weekly_sales": 42, "capacity": 42, "lanes": 3, "on_hand": 34, "perishable": "no",
         "shelf_days": 365, "price": "1.50", "cost": "0.45", "case_pieces": 24, "mass": "520 g"},
        {"name": "Pier cola", "weekly_sales": 35, "capacity": 18, "lanes": 2, "on_hand": 14, "perishable": "no",
         "shelf_days": 180, "price": "2.25", "cost": "0.95", "case_pieces": 12, "mass": "640 g"},
        {"name": "Salted crisps", "weekly_sales": 26, "capacity": 30, "lanes": 3, "on_hand": 21, "perishable": "no",
         "shelf_days": 120, "price": "1.50", "cost": "0.60", "case_pieces": 30, "mass": "45 g"},
        {"name": "Nut bar", "weekly_sales": 4, "capacity": 24, "lanes": 2, "on_hand": 20, "perishable": "no",
         "shelf_days": 240, "price": "1.25", "cost": "0.50", "case_pieces": 18, "mass": "50 g"},
        {"name": "Egg sandwich", "weekly_sales": 16, "capacity": 14, "lanes": 2, "on_hand": 11, "life_left": 3,
         "perishable": "yes", "shelf_days": 5, "price": "4.25", "cost": "2.10", "mass": "190 g", "needs_cold": "yes"},
    ],
}  # fmt: skip
