"""A site's plan on its sheet: the lanes as a table, and what of coils and goods goes into the van."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from calculators.core.html import badge
from calculators.core.units import Units
from tools.book import fits
from tools.results.siteplan import NO_TRAYS, Lane, Plan

if TYPE_CHECKING:
    from tools.book.data import OperatorData
    from tools.book.tables import Row

COLUMNS = ("Lanes", "Product", "Coil", "Each holds", "Outcome")
FRONT = "Lanes are counted from the left, seen from the front."
ALONE = ("Coils in stock are counted as if this site were the only one: they are not shared out among our sites. "
         "What other sites need that day is to be taken off.")  # fmt: skip


def part(data: OperatorData, plan: Plan) -> str:
    """The lanes of a cabinet, those that are alike and side by side in one line."""
    if not plan.lanes:
        return f"<p>{escape(NO_TRAYS)}</p>"
    head = "".join(f'<th scope="col">{name}</th>' for name in COLUMNS)
    body = "".join(_line(data, lane, count) for lane, count in plan.runs())
    return (
        f"<p><strong>{escape(plan.covered)}</strong> {FRONT} {escape(plan.best)}</p>"
        '<div class="hb-scroll" tabindex="0" role="region" aria-label="Lane by lane"><table class="hb-table hb-tests '
        f'hb-lanes"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>'
    )


def _line(data: OperatorData, lane: Lane, count: int) -> str:
    last = f"–{lane.number + count - 1}" if count > 1 else ""
    place = f"{lane.tray.typed['name']}: {lane.number}{last}"
    marks = f' data-tray="{escape(lane.tray.typed["name"])}" data-first="{lane.number}" data-lanes="{count}"'
    if not lane.product or not lane.coil:
        cells = (place, "empty", "–", "0", lane.mind)
    else:
        cells = (place, _product(data, lane.product), lane.coil.typed["name"], str(lane.pieces), lane.mind)
        marks += f' data-product="{escape(lane.product.typed["key"])}" data-with="{escape(lane.coil.typed["key"])}"'
    *plain, mind = cells
    told = "".join(f'<td data-label="{name}">{escape(cell)}</td>' for name, cell in zip(COLUMNS, plain, strict=False))
    return f'<tr{marks}>{told}<td data-label="{COLUMNS[-1]}"><span>{_outcome(lane)}{_hints(lane, mind)}</span></td></tr>'


def _outcome(lane: Lane) -> str:
    return badge(lane.outcome) if lane.product else "Leave it empty"


def _hints(lane: Lane, mind: str) -> str:
    tried = f"Tried here {lane.test.typed['date']}: {fits.counted(lane.test)}." if lane.test else ""
    look = f"Check: {'; '.join(_small(each) for each in mind.split('; '))}" if mind and lane.product else mind
    return "".join(f'<span class="hb-hint">{escape(hint)}</span>' for hint in (look, tried) if hint)


def _small(label: str) -> str:
    return label[:1].lower() + label[1:]


def _product(data: OperatorData, product: Row) -> str:
    """The product with its price, and that a test corrected a size of it."""
    mark = fits.corrected(data, product.typed["key"])
    price = Units(data.units, rules=data.rules).text(product.values["price"], "money") if "price" in product.values else ""
    return ", ".join(each for each in (product.typed["name"], price, mark) if each)


# -- the van ------------------------------------------------------------------------------


def said(plan: Plan) -> str:
    """What the van's coils and goods are for, and what the stock is taken for."""
    return f"{plan.headline} {ALONE}" if plan.lanes else NO_TRAYS


def coils(data: OperatorData, plan: Plan) -> list[str]:
    """Each coil with how many, and the stock that they come from."""
    return [f"{_coil(data, key)} × {count}, {_stock(data, key)}" for key, count in plan.coils.items()]


def _coil(data: OperatorData, key: str) -> str:
    return data.row("coils", key).typed["name"]


def _stock(data: OperatorData, key: str) -> str:
    stock = data.row("coils", key).values.get("stock")
    return "stock not counted" if stock is None else f"of {stock} in stock"


def goods(data: OperatorData, plan: Plan) -> list[str]:
    """Each product with its pieces, and its cases where the data know how many a case holds."""
    return [f"{row.typed['name']} × {pieces}{_cases(row, pieces)}" for key, pieces in plan.goods.items()
            for row in (data.row("products", key),)]  # fmt: skip


def _cases(product: Row, pieces: int) -> str:
    size = product.values.get("case_pieces")
    if not size:
        return ""
    count = -(-pieces // size)
    return f" ({count} {'case' if count == 1 else 'cases'} of {size})"


def spare(data: OperatorData, plan: Plan) -> list[str]:
    """One more of each coil of which the stock has one left, for a coil that is bent or does not fit."""
    return [f"{_coil(data, key)} × 1" for key, count in plan.coils.items()
            if (data.row("coils", key).values.get("stock") or 0) > count]  # fmt: skip
