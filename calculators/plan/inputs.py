"""What the cabinet plan asks for: products, trays, coils, the days to sell, and what must be kept."""

from __future__ import annotations

import copy
from typing import Any

from ..core import Choice, Count, Flag, Quantity, Record, Rows, Text
from ..core.fields import Field
from ..spiral.inputs import TRIED, UNTRIED, CoilRow
from ..spiral.inputs import Inputs as Spiral

PRODUCT = (
    "shape", "diameter", "breadth", "thickness", "height", "foot_diameter", "sides", "thick_end",
    "thin_end", "mass", "squeeze", "pillow", "may_skew", "may_turn", "drop_limit",
)  # fmt: skip
TRAY = ("lane_width", "height_above", "strip_height", "rail_height", "drop_height")
CABINET = ("usable_length", "turns_per_sale", "end_empty")
ZONES = {"cold": "Cold", "warm": "Not cooled"}
VERDICTS = {word: label for word, label in TRIED.items() if word != UNTRIED}
WHERE = {"beside": "Not in lanes side by side", "tray": "Not in one tray"}


def spiral_field(key: str, **changes: Any) -> Any:
    """One of spiral fit's own fields, so that both forms ask and limit alike."""
    field: Field = copy.copy(Spiral.field(key))
    for name, value in {"first": False, "group": "", **changes}.items():
        setattr(field, name, value)
    return field


class ProductRow(Record):
    """One product to sell."""

    name = Text("Name", help="What the crew calls it; each product needs its own.", example="Still water")
    weekly_sales = Quantity(
        "Sales a week", kind="ratio", symbol="s", least=0, most=5000, example=24,
        help="Pieces a week from this cabinet if it never ran out.")  # fmt: skip
    shape = spiral_field("shape")
    diameter = spiral_field("diameter")
    breadth = spiral_field("breadth")
    thickness = spiral_field("thickness")
    height = spiral_field("height")
    foot_diameter = spiral_field("foot_diameter")
    sides = spiral_field("sides")
    thick_end = spiral_field("thick_end")
    thin_end = spiral_field("thin_end")
    mass = spiral_field("mass")
    squeeze = spiral_field("squeeze")
    pillow = spiral_field("pillow")
    may_skew = spiral_field("may_skew")
    may_turn = spiral_field("may_turn")
    drop_limit = spiral_field("drop_limit")
    allergens = Text("Allergens and other words", help="As the label names them, with commas between; "
                     "“keep apart” looks for these words.", example="wheat, milk")  # fmt: skip
    needs_cold = Flag("Must be kept cold", default=False, help="Then only trays of the cold zone will do.")
    heavy = Flag("Heavy", default=False, help="Then only low trays will do; see “heavy goods”.")
    must = Flag("Must be sold", default=False, help="At least one lane, whatever else sells better.")


class TrayRow(Record):
    """One tray of lanes of one width."""

    name = Text("Name", help="What the crew calls it, such as tray 1.", example="tray 1")
    lanes = Count("Lanes", symbol="n_lanes", least=1, most=20, example=10,
                  help="All of one width. A tray with two widths is given as two.")  # fmt: skip
    lane_width = spiral_field("lane_width")
    height_above = spiral_field("height_above")
    strip_height = spiral_field("strip_height")
    rail_height = spiral_field("rail_height")
    drop_height = spiral_field("drop_height")
    zone = Choice("Zone", ZONES, example="cold", help="Whether it is cooled.")


class PinRow(Record):
    """One lane that a product keeps."""

    product = Text("Product", help="Its name as given above.", example="Still water")
    tray = Text("Tray", help="Its name as given above.", example="tray 1")
    lane = Count("Lane", least=1, most=20, example=3, help="Counted from the left, seen from the front.")


class TriedRow(Record):
    """What a test by hand said of one product in one coil."""

    product = Text("Product", help="Its name as given above.", example="Still water")
    coil = Text("Coil", help="Its name as given above.", example="seven-count")
    verdict = Choice("Verdict", VERDICTS, example="keep",
                     help="Of three packs lifted and ten test sales in this cabinet.")  # fmt: skip


class ApartRow(Record):
    """Two words whose products are kept apart."""

    first = Text("Word", help="An allergen or another word of a product, or a product’s name.",
                 example="tree nuts")  # fmt: skip
    second = Text("Keep apart from", help="The other word or name.", example="nut-free")
    where = Choice("Where", WHERE, default="beside", help="How far apart they must be.")


def _cabinet(key: str, **changes: Any) -> Any:
    return spiral_field(key, group="Cabinet", **changes)


class Inputs(Record):
    """The whole form."""

    days = Quantity(
        "Days to the next visit", kind="days", symbol="T", least=0.25, most=60, example=4, first=True,
        card=True, help="Until somebody loads the cabinet again.")  # fmt: skip
    most_lanes = Count(
        "Most lanes for one product", symbol="M", least=1, most=5, example=3, default=3, first=True,
        help="However well it sells.")  # fmt: skip
    usable_length = spiral_field("usable_length", first=True)
    heavy_tray = Count(
        "Heavy goods from this tray down", least=1, most=12, example=4, first=True,
        help="Counted from the top tray. 1: heavy goods may lie anywhere.")  # fmt: skip
    heavy_mass = Quantity(
        "Heavy from", kind="small_mass", least=1, most=10_000, example=600, group="Cabinet",
        help="A product of this mass or more counts as heavy. Blank: only those marked so.")  # fmt: skip
    turns_per_sale = _cabinet("turns_per_sale")
    end_empty = _cabinet("end_empty")
    products = Rows("Products", ProductRow, "product", brief=("name", "weekly_sales"), most=60, group="Products",
                    help="All that may be sold from this cabinet.")  # fmt: skip
    trays = Rows("Trays", TrayRow, "tray", brief=("name", "lanes", "lane_width"), most=12, group="Trays", help="From the top tray down.")
    coils = Rows("Coils in stock", CoilRow, "coil", brief=("name", "coil_count", "stock"), most=24, group="Coils in stock",
                 help="All you can fit in this cabinet, those in it now as well.")  # fmt: skip
    pins = Rows("Keep here", PinRow, "kept lane", most=24, group="Keep here",
                help="Lanes that stay as they are, whatever sells better there.")  # fmt: skip
    tried = Rows("Tried by hand", TriedRow, "test", most=240, group="Tried by hand",
                 help="A test stands over what is calculated. Where a coil was kept, none with something to mind is used.")  # fmt: skip
    apart = Rows("Keep apart", ApartRow, "pair", most=60, group="Keep apart",
                 help="Words of products that must not lie close together.")  # fmt: skip


EXAMPLE: dict[str, Any] = {
    "days": 7, "most_lanes": 3, "usable_length": "21 1/2 in", "heavy_tray": 3,
    "products": [
        {"name": "Still water", "weekly_sales": 42, "drop_limit": "10 ft", "shape": "round", "diameter": "65 mm",
         "foot_diameter": "60 mm", "height": "205 mm", "mass": "520 g"},
        {"name": "Pier cola", "weekly_sales": 35, "drop_limit": "10 ft", "shape": "round", "diameter": "73 mm",
         "foot_diameter": "68 mm", "height": "225 mm", "mass": "640 g", "heavy": "yes"},
        {"name": "Lemon can", "weekly_sales": 20, "drop_limit": "10 ft", "shape": "round", "diameter": "66.3 mm",
         "foot_diameter": "54 mm", "height": "122.5 mm", "mass": "370 g"},
        {"name": "Salted crisps", "weekly_sales": 26, "drop_limit": "10 ft", "shape": "flat", "breadth": "130 mm",
         "thickness": "42 mm", "height": "180 mm", "mass": "45 g", "squeeze": "4 mm", "pillow": "yes",
         "allergens": "milk"},
        {"name": "Nut bar", "weekly_sales": 24, "drop_limit": "10 ft", "shape": "flat", "breadth": "45 mm",
         "thickness": "28 mm", "height": "120 mm", "mass": "50 g", "allergens": "tree nuts, wheat"},
        {"name": "Rice cake", "weekly_sales": 9, "drop_limit": "10 ft", "shape": "flat", "breadth": "60 mm",
         "thickness": "34 mm", "height": "110 mm", "mass": "40 g", "allergens": "nut-free",
         "must": "yes"},
    ],
    "trays": [
        {"name": "tray 1", "lanes": 4, "lane_width": "158 mm", "height_above": "9 1/2 in",
         "rail_height": "3 1/2 in", "drop_height": "44 in"},
        {"name": "tray 2", "lanes": 8, "lane_width": "79 mm", "height_above": "9 1/2 in",
         "rail_height": "3 1/2 in", "drop_height": "34 in"},
        {"name": "tray 3", "lanes": 8, "lane_width": "79 mm", "height_above": "11 in",
         "rail_height": "4 1/2 in", "drop_height": "22 in"},
    ],
    "coils": [
        {"name": "six-count", "coil_count": 6, "coil_outside": "3 in", "wire": "4 mm", "stock": 5},
        {"name": "seven-count", "coil_count": 7, "coil_outside": "3 in", "wire": "4 mm", "stock": 6},
        {"name": "nine-count", "coil_count": 9, "coil_outside": "3 in", "wire": "4 mm", "stock": 5},
        {"name": "twelve-count", "coil_count": 12, "coil_outside": "3 in", "wire": "4 mm", "stock": 3},
        {"name": "seven-count dual", "coil_count": 7, "coil_outside": "3 in", "wire": "4 mm",
         "coil_kind": "dual", "axis_offset": "40 mm", "stock": 2},
    ],
    "pins": [{"product": "Still water", "tray": "tray 3", "lane": 1}],
    "apart": [{"first": "tree nuts", "second": "nut-free", "where": "tray"}],
}  # fmt: skip
