"""Works out beforehand, and all together, what the pages of a whole handbook will ask for."""

from __future__ import annotations

from collections.abc import Iterator

from tools.book.answers import Question, Tell, silent
from tools.book.data import OperatorData

from . import coils, siteplan, sites, visits


def work_out(data: OperatorData, tell: Tell = silent) -> None:
    """Have every site and its plan, every ranking of coils and every product's best coil ready."""
    with data.answers.at_work():
        data.answers.prepare([*_sites(data), *_rankings(data)], tell)
        # Which coil is chosen is known only when they have been ranked, what a visit brings when the lanes are planned.
        data.answers.prepare([*_chosen(data), *_visits(data)], tell)


def visit_plan(data: OperatorData, tell: Tell = silent) -> None:
    """Have ready what the visit plan alone asks: plans and floats, then what each visit brings for those plans."""
    with data.answers.at_work():
        data.answers.prepare([*siteplan.questions(data), *visits.floats(data)], tell)
        data.answers.prepare(_visits(data), tell)


def _sites(data: OperatorData) -> Iterator[Question]:
    for row in data.tables["sites"]:
        yield from sites.questions(data, row.typed["key"]).values()
    yield from siteplan.questions(data)


def _rankings(data: OperatorData) -> Iterator[Question]:
    for machine in data.tables["machines"]:
        for product in data.sold_in("products", machine.typed["key"]):
            yield coils.ranked_question(data, machine.typed["key"], product.typed["key"])


def _chosen(data: OperatorData) -> Iterator[Question]:
    for machine in data.tables["machines"]:
        key = machine.typed["key"]
        for product in data.sold_in("products", key):
            best = next(iter(coils.judged(data, key, product.typed["key"])), None)
            if best:
                yield coils.question(data, key, product.typed["key"], best.coil)


def _visits(data: OperatorData) -> Iterator[Question]:
    for row in data.tables["sites"]:
        yield from visits.questions(data, row.typed["key"])
