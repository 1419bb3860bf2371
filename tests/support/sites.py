"""Sites at which everything fails, of each calculator that judges one: tests/cases/*/failures.toml."""

from __future__ import annotations

import tomllib
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, NamedTuple

import calculators
from calculators.core import rules

CASES = Path(__file__).parents[1] / "cases"
RULES = Path(rules.__file__).parents[1] / "rules"
NAMES = ("circuit", "clearance", "level", "outlet", "handling", "standing", "cold", "restock", "cash", "energy")
# Those whose file says of each site what every set shows.
LINED = NAMES[2:]
NORTH = ("us", "ca")


class Line(NamedTuple):
    """What a check must show there: its outcome, its figure's clause and status, whether it warns."""

    key: str
    outcome: str
    clause: str
    status: str
    caution: bool


def read(name: str) -> dict[str, Any]:
    """The file of a calculator."""
    return tomllib.loads((CASES / name / "failures.toml").read_text(encoding="utf-8"))


def requests(name: str, rule_set: str) -> list[dict[str, Any]]:
    """Every such site under a rule set."""
    return [{"rules": rule_set, "units": "si", "typed": "si", "inputs": inputs}
            for inputs in _inputs(name, rule_set)]  # fmt: skip


def _inputs(name: str, rule_set: str) -> list[dict[str, Any]]:
    data = read(name)
    if name == "clearance":
        return [data["inputs"], *({**data["inputs"], **more} for more in data["more"])]
    if name == "circuit":
        own = data["sets"][rule_set]
        base = {**data["common"], **data[own["base"]], **own["changes"]}
        return [base, *({**base, **more} for more in own.get("more", []))]
    ground = "north" if rule_set in NORTH else "metric"
    return [{**site["inputs"], **site.get(ground, {}), **site.get(rule_set, {})} for site in data["site"]]


def never(name: str, rule_set: str) -> set[str]:
    """Checks that are only ever passed or unknown there."""
    data = read(name)
    return {*data.get("never", []), *data.get("sets", {}).get(rule_set, {}).get("never", [])}


def lines(name: str, rule_set: str) -> list[list[Line]]:
    """What each site of a file with lines must show under a rule set."""
    found = []
    for site in read(name)["site"]:
        told = site["checks"]
        rows = told if isinstance(told, list) else [*told["everywhere"], *told.get(rule_set, [])]
        found.append([Line(*row) for row in rows])
    return found


# -- what a page shows --------------------------------------------------------------------


class _Page(HTMLParser):
    """The text of every check of a result's page, under its key."""

    def __init__(self) -> None:
        super().__init__()
        self.shown: list[tuple[str, str, str]] = []
        self._inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        facts = dict(attrs)
        if tag == "li" and "data-check" in facts:
            self.shown.append((str(facts["data-check"]), str(facts["data-outcome"]), ""))
            self._inside = True

    def handle_endtag(self, tag: str) -> None:
        if tag == "li":
            self._inside = False

    def handle_data(self, data: str) -> None:
        if self._inside:
            key, outcome, text = self.shown.pop()
            self.shown.append((key, outcome, " ".join(f"{text} {data}".split())))


def page(name: str, request: dict[str, Any]) -> list[tuple[str, str, str]]:
    """Key, outcome and whole text of each check as the page shows it."""
    reader = _Page()
    reader.feed(calculators.run(name, {**request, "html": True})["html"])
    return reader.shown


def table(rule_set: str, key: str) -> dict[str, Any]:
    """A figure as its file has it, the set's own before the common one."""
    subject, _, figure = key.partition(".")
    for folder in (rule_set, "common"):
        path = RULES / folder / f"{subject}.toml"
        facts = tomllib.loads(path.read_text(encoding="utf-8")) if path.exists() else {}
        if figure in facts:
            return {"source_title": facts.get("sources", {}).get(facts[figure].get("source"), {}).get("title", ""),
                    **facts[figure]}  # fmt: skip
    raise KeyError(key)
