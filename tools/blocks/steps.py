"""Numbered steps with a box to tick; cautions stand in the step they guard, before its text."""

from __future__ import annotations

import re
import xml.etree.ElementTree as etree
from typing import TYPE_CHECKING

from .options import no_argument
from .tree import Node

if TYPE_CHECKING:
    from . import Drawer

_STEP = re.compile(r"^(\d+)\.\s+(.*)$")
SIGNALS = ("danger", "warning", "caution", "notice")


class _Step:
    """One step while it is gathered: blocks before its text, reason lines and blocks after."""

    def __init__(self, number: int, text: str, before: list[Node]) -> None:
        self.number = number
        self.text = text
        self.before = before
        self.why: list[str] = []
        self.after: list[Node] = []


def draw(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """The list; a signal word belongs to the next step, any other block to the last one."""
    no_argument(node, drawer)
    steps = _gather(node, drawer)
    if not steps:
        drawer.report(node.line, "There is no step here.", "Write lines such as “1. Look at …”.")
    listed = etree.SubElement(parent, "ol", {"class": "hb-steps"})
    stem = drawer.context.step_ids()
    for step in steps:
        _draw_step(step, listed, stem, drawer)


def _gather(node: Node, drawer: Drawer) -> list[_Step]:
    steps: list[_Step] = []
    waiting: list[Node] = []
    for each in node.body:
        if isinstance(each, Node):
            if each.name in SIGNALS or not steps:
                waiting.append(each)
            else:
                steps[-1].after.append(each)
            continue
        waiting = _take_line(each, steps, waiting, drawer)
    for left in waiting:
        drawer.report(left.line, f"This {left.name} guards no step.",
                      "Put it before the step it belongs to.")  # fmt: skip
    return steps


def _take_line(
    each: tuple[int, str], steps: list[_Step], waiting: list[Node], drawer: Drawer
) -> list[Node]:
    line, text = each
    found = _STEP.match(text)
    if found:
        number = int(found.group(1))
        if number != len(steps) + 1:
            drawer.report(line, f"Step {number} stands where step {len(steps) + 1} is due.",
                          "Number the steps in order.")  # fmt: skip
        steps.append(_Step(len(steps) + 1, found.group(2), waiting))
        return []
    if text.strip() and steps and text.startswith((" ", "\t")):
        steps[-1].why.append(text.strip())
    elif text.strip():
        drawer.report(line, "This line is neither a step nor the reason of one.",
                      "Begin a step with its number, and indent its reason.")  # fmt: skip
    return waiting


def _draw_step(step: _Step, listed: etree.Element, stem: str, drawer: Drawer) -> None:
    item = etree.SubElement(listed, "li", {"class": "hb-step", "id": f"{stem}-{step.number}"})
    for block in step.before:
        drawer.draw(block, item)
    label = etree.SubElement(item, "label", {"class": "hb-step-line"})
    etree.SubElement(label, "input", {"type": "checkbox", "class": "hb-tick"})
    number = etree.SubElement(label, "span", {"class": "hb-step-number"})
    number.text = f"{step.number}"
    number.tail = " "
    words = etree.SubElement(label, "span", {"class": "hb-step-text"})
    words.text = step.text
    if step.why:
        why = etree.SubElement(item, "p", {"class": "hb-why"})
        why.text = " ".join(step.why)
    for block in step.after:
        drawer.draw(block, item)
