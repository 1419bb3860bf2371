"""The visit plan: which sites on which day, with what; every number of it is the restock or float calculator's.

A site with visiting days has a visit on each of them, for the time up to the next one. One without is planned by the
days of its row, on no day. Each visit counts on the last one having filled the cabinet up.
"""

from __future__ import annotations

import functools
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tools.book import stocked, week

from . import asking

if TYPE_CHECKING:
    from tools.book.answers import Question
    from tools.book.data import OperatorData
    from tools.book.tables import Row

Coins = tuple[tuple[str, str], ...]  # each coin with its whole rolls
# Of a day's key: sites without visiting days come last.
NO_DAY = week.FORTNIGHT


@dataclass(frozen=True)
class Goods:
    """One product of a visit: pieces to bring, and up to how many it is filled."""

    product: Row
    bring: int
    fill: int


@dataclass(frozen=True)
class Visit:
    """One visit: its site, its day (:mod:`tools.book.week`), the days since the last and until the next one.

    ``lasts`` is by when it must be, ``first`` the selection that runs short then; ``short``: that is before the visit.
    """

    site: Row
    day: int
    since: float
    until: float
    goods: tuple[Goods, ...]
    coins: Coins
    lasts: str
    first: str
    short: bool

    @property
    def pieces(self) -> int:
        """Pieces to bring."""
        return sum(each.bring for each in self.goods)


def of_site(data: OperatorData, key: str) -> tuple[Visit, ...]:
    """The visits of a site in a fortnight, those of a second like week left out."""
    return _of_site(data, key)


@functools.lru_cache(maxsize=2_000)
def _of_site(data: OperatorData, key: str) -> tuple[Visit, ...]:
    site = data.row("sites", key)
    found = times(site)
    coins = _coins(data, key) if found else ()
    return tuple(_visit(data, site, coins, *each) for each in found)


def times(site: Row) -> list[tuple[int, float, float]]:
    """Day, days since the last visit and days to the next one; weeks that are alike stand once."""
    days = week.of(site)
    if not days:
        gap = site.values.get("days")
        return [] if gap is None else [(NO_DAY, gap, gap)]
    gaps = week.gaps(days)
    found = [(day, float(gaps[at - 1]), float(gaps[at])) for at, day in enumerate(days)]
    return [each for each in found if each[0] < 7] if week.is_weekly(days) else found


def questions(data: OperatorData, key: str) -> list[Question]:
    """What restocking is asked of a site's visits; the cabinet plan must be known for it."""
    return [_question(data, key, since, until) for _, since, until in times(data.row("sites", key))]


def floats(data: OperatorData) -> list[Question]:
    """What is asked of the change of all sites that are visited."""
    return [_float(data, site.typed["key"]) for site in data.tables["sites"] if times(site)]


def _float(data: OperatorData, key: str) -> Question:
    return asking.question(data, "float", data.prefill("float", {"site": key}))


def _question(data: OperatorData, key: str, since: float, until: float) -> Question:
    inputs = data.prefill("restock", {"site": key})
    return asking.question(data, "restock", {**inputs, "days": f"{since:g}", "cover": f"{until:g}"})


def _visit(data: OperatorData, site: Row, coins: Coins, day: int, since: float, until: float) -> Visit:
    key = site.typed["key"]
    report: dict[str, Any] = data.answers.told(_question(data, key, since, until))
    tables = {each["key"]: [dict(zip(each["keys"], row, strict=True)) for row in each["rows"]] for each in report["tables"]}
    fills = {row["name"]: row["fill"] for row in tables.get("selections", [])}
    named, brought = stocked.product_of(data, key), {row["name"]: int(row["pieces"]) for row in tables.get("pick", [])}
    listed = [*brought, *(name for name in fills if name not in brought)]
    goods = tuple(Goods(named[name], brought.get(name, 0), int(fills[name])) for name in listed if fills[name].isdigit())
    lasts = next(value for value in report["values"] if value["key"] == "next_visit")
    short = lasts["inner"] is not None and lasts["inner"] < since
    first = next((row["name"] for row in tables.get("selections", [])), "")
    return Visit(site, day, since, until, goods, coins, lasts["text"], first, short)


def _coins(data: OperatorData, key: str) -> Coins:
    """Each coin with its whole rolls that fill the tubes again, as the float has them."""
    report = data.answers.told(_float(data, key))
    rows = (dict(zip(each["keys"], row, strict=True)) for each in report["tables"] if each["key"] == "next" for row in each["rows"])
    return tuple((row["coin"], row["packs"]) for row in rows if not row["packs"].startswith("0 "))


def called(data: OperatorData, day: int) -> str:
    """A visit's day in words; empty where it has none."""
    return "" if day == NO_DAY else week.called(day, weekly=is_weekly(data))


def by_day(data: OperatorData) -> dict[int, list[Visit]]:
    """All visits in the order of their days, and of the sites' table; a week stands for both where all are alike."""
    found: dict[int, list[Visit]] = {}
    weekly = is_weekly(data)
    for site in data.tables["sites"]:
        for visit in of_site(data, site.typed["key"]):
            for day in _days(site, visit.day, weekly=weekly):
                found.setdefault(day, []).append(visit)
    return {day: found[day] for day in sorted(found)}


@functools.lru_cache(maxsize=8)
def is_weekly(data: OperatorData) -> bool:
    """Whether every site has the same days in both weeks."""
    return all(week.is_weekly(days) for site in data.tables["sites"] if (days := week.of(site)))


def _days(site: Row, day: int, *, weekly: bool) -> list[int]:
    """A weekly visit stands in both weeks where other sites tell them apart."""
    both = not weekly and day < 7 and week.is_weekly(week.of(site))
    return [day, day + 7] if both else [day]


def load(visits: list[Visit]) -> list[tuple[Row, int, int | None]]:
    """The products of a day in van order: pieces, and whole cases where it comes in cases."""
    pieces: Counter[str] = Counter()
    rows: dict[str, Row] = {}
    for visit in visits:
        for each in visit.goods:
            if each.bring:
                rows[each.product.typed["key"]] = each.product
                pieces[each.product.typed["key"]] += each.bring
    return [(row, pieces[key], cases(row, pieces[key])) for key, row in sorted(rows.items(), key=lambda each: _van_order(each[1]))]


def _van_order(product: Row) -> tuple[bool, float]:
    """As the pick list has it: heavy cases first, what must stay cold last."""
    size = product.values.get("case_pieces") or 1
    return bool(product.values.get("needs_cold")), -(product.values.get("mass") or 0.0) * size


def cases(product: Row, pieces: int) -> int | None:
    """Whole cases for so many pieces; None of what comes loose."""
    size = product.values.get("case_pieces")
    return -(-pieces // size) if size else None


def change(visits: list[Visit]) -> dict[str, int]:
    """Whole rolls of each coin for some visits."""
    found: Counter[str] = Counter()
    for visit in visits:
        for coin, packs in visit.coins:
            found[coin] += int(packs.split()[0])
    return dict(found)
