"""What restocking is asked of a site: its plan's lanes, with what each product sells, costs and how long it keeps."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from . import planned, week

if TYPE_CHECKING:
    from .data import OperatorData
    from .tables import Row

# Their rows come from the cabinet plan, which is no question for whoever only reads the tables.
FROM_PLAN = frozenset({"restock"})
# Columns of products.csv that the form takes as they are.
PRODUCT = ("weekly_sales", "shelf_days", "price", "cost", "case_pieces", "mass", "needs_cold")


def rows(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    """The selections of a site, or of a cabinet model as most of its sites have them; filled at the last visit."""
    machine = keys.get("machine")
    if machine is None:
        return {}
    site = data.row("sites", keys["site"]) if "site" in keys else None
    told = planned.setting(data, keys["site"]) if site else planned.usual(data, machine)
    gap = week.longest(site) if site else _usual_gap(data, machine)
    found: dict[str, Any] = {"stocked": "filled"}
    if gap is not None:
        found |= {"days": f"{gap:g}", "cover": f"{gap:g}"}
    held = planned.held(data, machine, told) if told is not None else ()
    return {**found, "selections": [_selection(each, gap) for each in held]}


@functools.lru_cache(maxsize=256)
def _usual_gap(data: OperatorData, machine: str) -> float | None:
    gaps = [gap for site in data.of("sites", "machine", machine) if (gap := week.longest(site)) is not None]
    return max(set(gaps), key=gaps.count) if gaps else None


def _selection(each: planned.Held, gap: float | None) -> dict[str, str]:
    typed = each.product.typed
    found = {"name": each.name, "capacity": str(each.pieces), "lanes": str(each.lanes)}
    keeps = each.product.values.get("shelf_days")
    if keeps is not None and gap is not None:
        # A pack that is left must last to the next visit, or it goes out at this one.
        found["perishable"] = "yes" if keeps < 2 * gap else "no"
    return {**found, **{key: typed[key] for key in PRODUCT if key in typed}}


def product_of(data: OperatorData, site: str) -> dict[str, Row]:
    """The products of a site's plan, by what the selections are called."""
    machine = data.row("sites", site).typed["machine"]
    return {each.name: each.product for each in planned.held(data, machine, planned.setting(data, site))}
