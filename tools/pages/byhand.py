"""Choosing a coil with paper and ruler: what each coil lets in, in a table, and room to write."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

import calculators
from calculators.core.units import Units
from tools.results import coils

if TYPE_CHECKING:
    from tools.book.data import OperatorData
    from tools.book.tables import Row

# Breadths a table shows, as people measure them in each system; in inner millimetres.
BREADTHS = {"us": (50.8, 76.2, 101.6, 127.0, 152.4), "si": (50.0, 75.0, 100.0, 125.0, 150.0)}
ROOM = {"us": 25.4, "si": 25.0}  # the lane is this much wider than the broader of pack and coil
BAGS = 2  # bags are broad: their columns are the last of the breadths
ROWS = 8  # lines to write on
SAMPLE = 15.0  # mm; a thin pack, so that only the coil and the lane decide


def part(data: OperatorData) -> str:
    """The heading, the three steps, a table for each cabinet, and the lines to fill in."""
    show = Units(data.units)
    tables = "".join(_table(data, same, show) for same in _alike(data))
    return (
        '<h2 id="by-hand" class="hb-sheet-start">Without a phone: choose by hand</h2>\n\n'
        f"{_steps(show)}{tables}{_lines()}"
    )


def _steps(show: Units) -> str:
    field = calculators.get("spiral").inputs.field
    spare = show.text(field("diameter").tolerance + field("coil_outside").tolerance, "length", "up")
    room = show.text(ROOM[show.system], "length")
    steps = (
        "Measure the product where it is fullest. A round one: its diameter. A flat one or a bag: its "
        "breadth across the lane, and its thickness front to back.",
        "Take the column of its kind. If its breadth lies between two columns, go by the smaller figure of the two, "
        "row by row.",
        f"Go down to the coils whose figure is larger than your diameter or thickness by {spare} or more. "
        "Of those, take the coil with the smallest figure: it holds the product most closely.",
        f"See that the lane is about {room} wider than the pack and the coil. Then lift three packs by "
        "hand, run ten test vends, and write down what they did. The table does not know how it leans "
        "or drops: the test decides.",
    )  # fmt: skip
    listed = "".join(f"<li>{escape(step)}</li>" for step in steps)
    return f"<ol>{listed}</ol>"


def _alike(data: OperatorData) -> list[list[Row]]:
    """Cabinets whose coils are the same and as long: one table serves them."""
    found: dict[tuple[object, ...], list[Row]] = {}
    for row in data.tables["machines"]:
        own = data.sold_in("coils", row.typed["key"])
        if own and "usable_length" in row.typed:
            mark = (row.values["usable_length"], *(coil.typed["key"] for coil in own))
            found.setdefault(mark, []).append(row)
    return list(found.values())


def _table(data: OperatorData, machines: list[Row], show: Units) -> str:
    machine = machines[0]
    own = data.sold_in("coils", machine.typed["key"])
    columns = [("Round", "round", 0.0)]
    columns += [(f"Flat, {show.text(wide, 'length')} broad", "flat", wide) for wide in BREADTHS[show.system]]
    columns += [(f"Bag, {show.text(wide, 'length')} broad", "bag", wide)
                for wide in BREADTHS[show.system][-BAGS:]]  # fmt: skip
    found = [openings(data, machine, own, kind, wide) for _, kind, wide in columns]
    head = "".join(f'<th scope="col">{escape(title)}</th>' for title, _, _ in columns)
    body = "".join(_row(row, [each[row.typed["key"]] for each in found]) for row in own)
    name = f"Largest that goes in: {', '.join(row.typed['name'] for row in machines)}"
    return (
        f"<h3>{escape(name)}</h3>"
        f'<div class="hb-scroll hb-chart" tabindex="0" role="region" aria-label="{escape(name)}">'
        f'<table class="hb-table"><thead><tr><th scope="col">Coil</th>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table></div>"
    )


def _row(coil: Row, texts: list[str]) -> str:
    cells = "".join(f'<td class="hb-number">{escape(text)}</td>' for text in texts)
    return f'<tr><th scope="row">{escape(coil.typed["name"])}</th>{cells}</tr>'


def openings(data: OperatorData, machine: Row, own: list[Row], kind: str, wide: float) -> dict[str, str]:
    """The largest product of a kind (round, flat, bag) that each coil lets in, by the coil's key."""
    found: dict[str, str] = {}
    for row in own:
        lane = max(wide, _span(row)) + ROOM[data.units]
        found[row.typed["key"]] = _opening(data, machine, row, kind, wide, lane)
    return found


def _span(coil: Row) -> float:
    """How much of the lane a coil, or both of a pair, takes up; millimetres."""
    pair = 2 * (coil.values.get("axis_offset") or 0.0) if coil.values.get("coil_kind") == "dual" else 0.0
    return float(pair + (coil.values.get("coil_outside") or 0.0))


def _opening(data: OperatorData, machine: Row, coil: Row, kind: str, wide: float, lane: float) -> str:
    shape = ({"shape": "round", "diameter": f"{SAMPLE} mm"} if kind == "round" else
             {"shape": "flat", "breadth": f"{wide} mm", "thickness": f"{SAMPLE} mm",
              "pillow": "yes" if kind == "bag" else "no"})  # fmt: skip
    tray = {"usable_length": machine.typed["usable_length"], "lane_width": f"{lane} mm", **WHOLE}
    result = coils.run(data, {**tray, **shape, **coils.coil_of(coil)})
    unfit = any(check["outcome"] == "stop" for check in result["checks"] if check["key"] in ("pair", "held"))
    text = next(value["text"] for value in result["values"] if value["key"] == "opening")
    return "–" if unfit else str(text)


# Nothing of this table hangs on these; given, no run looks for what to measure next.
WHOLE = {"height": "100 mm", "foot_diameter": f"{SAMPLE} mm", "mass": "100 g", "height_above": "300 mm",
          "rail_height": "100 mm", "drop_height": "500 mm"}  # fmt: skip


def _lines() -> str:
    head = ("Product", "Shape", "Size", "Coil", "Lifted", "Hung", "Fell", "Crushed")
    top = "".join(f'<th scope="col">{name}</th>' for name in head)
    line = "<tr>" + "<td>&#160;</td>" * len(head) + "</tr>"
    return (f'<table class="hb-fill hb-print-only hb-by-hand" aria-label="Coils chosen by hand"><thead><tr>{top}</tr>'
            f"</thead><tbody>{line * ROWS}</tbody></table>")  # fmt: skip
