"""Tables to fill in with a pen: the record, and the sign-off."""

from __future__ import annotations

import xml.etree.ElementTree as etree
from collections.abc import Sequence
from typing import TYPE_CHECKING

import calculators
from tools.problems import nearest

from .options import no_argument
from .tree import Node

if TYPE_CHECKING:
    from . import Drawer

ANSWER = "="


def _table(parent: etree.Element, name: str, columns: Sequence[str], label: str) -> etree.Element:
    table = etree.SubElement(parent, "table", {"class": f"hb-fill hb-{name}", "aria-label": label})
    row = etree.SubElement(etree.SubElement(table, "thead"), "tr")
    for column in columns:
        etree.SubElement(row, "th", {"scope": "col"}).text = column
    return etree.SubElement(table, "tbody")


def _row(body: etree.Element, head: str, hint: str, blanks: int, answer: str = "") -> None:
    row = etree.SubElement(body, "tr")
    cell = etree.SubElement(row, "th", {"scope": "row"})
    cell.text = head
    if hint:
        etree.SubElement(cell, "span", {"class": "hb-hint"}).text = hint
    for _ in range(blanks):
        etree.SubElement(row, "td", {"data-answer": answer} if answer else {}).text = "\u00a0"


def draw_record(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """One row a line: ``Label | what to write``, or ``Label | = clearance``, which takes a calculator's answer."""
    _draw(node, parent, drawer, "record", ("What", "Write here"), 1)


def draw_signoff(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """One row a role, with room for name, signature and date."""
    _draw(node, parent, drawer, "signoff", ("Role", "Name", "Signature", "Date"), 3)


def _draw(node: Node, parent: etree.Element, drawer: Drawer, name: str,
          columns: Sequence[str], blanks: int) -> None:  # fmt: skip
    no_argument(node, drawer)
    lines = node.lines()
    if not lines:
        drawer.report(node.line, f"The {name} has no line.", "Write one line a row.")
    for child in node.children():
        drawer.report(child.line, f"A {name} holds no other block.", "Move it out.")
    body = _table(parent, name, columns, {"record": "Record", "signoff": "Sign-off"}[name])
    for line, text in lines:
        head, _, hint = (each.strip() for each in text.strip().partition("|"))
        answer = hint.removeprefix(ANSWER).strip() if hint.startswith(ANSWER) else ""
        if answer and answer not in calculators.NAMES:
            drawer.report(line, f"There is no calculator “{answer}”.", nearest(answer, list(calculators.NAMES)))
            continue
        _row(body, head, f"answer of {calculators.get(answer).title}" if answer else hint, blanks, answer)
