"""Numbered steps with a box to tick; cautions stand in the step they guard, before its text."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as etree
from typing import TYPE_CHECKING

from . import only
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
        self.only: Node | None = None
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
    for some, run in itertools.groupby(steps, lambda step: step.only):
        _draw_run(some, list(run), listed, stem, drawer)


def _draw_run(some: Node | None, run: list[_Step], listed: etree.Element, stem: str, drawer: Drawer) -> None:
    """Steps for all cabinets or for some; where no model of the operator needs them, a line that says so."""
    models = only.whose(some.argument, some.line, drawer.context) if some else None
    if models and models.nobody:
        _draw_left_out(models, run, listed, stem)
        return
    for step in run:
        item = _draw_step(step, listed, stem, drawer)
        for name, value in (only.attributes(models) if models else {}).items():
            item.set(name, value)
    if models and not models.everybody:
        first = etree.Element("p", {"class": "hb-only-head"})
        first.text = f"{_numbers(run)}: {models.label} only."
        listed[-len(run)].insert(0, first)


def _draw_left_out(models: only.Whose, run: list[_Step], listed: etree.Element, stem: str) -> None:
    item = etree.SubElement(listed, "li", {"class": "hb-step hb-folded"})
    only.head(item, f"{_numbers(run)}: left out, for {models.label} only.")
    for step in run:  # other pages may link to them
        etree.SubElement(item, "span", {"id": f"{stem}-{step.number}"})


def _numbers(run: list[_Step]) -> str:
    first, last = run[0].number, run[-1].number
    return f"Step {first}" if first == last else f"Steps {first} to {last}"


def _gather(node: Node, drawer: Drawer) -> list[_Step]:
    steps: list[_Step] = []
    waiting: list[Node] = []
    _gather_into(node, steps, waiting, None, drawer)
    for left in waiting:
        drawer.report(left.line, f"This {left.name} guards no step.",
                      "Put it before the step it belongs to.")  # fmt: skip
    return steps


def _gather_into(node: Node, steps: list[_Step], waiting: list[Node], some: Node | None, drawer: Drawer) -> None:
    for each in node.body:
        if isinstance(each, Node) and each.name == "only" and _has_steps(each):
            _gather_into(each, steps, waiting, each, drawer)
        elif isinstance(each, Node):
            if _guards(each) or not steps:
                waiting.append(each)
            else:
                steps[-1].after.append(each)
        else:
            _take_line(each, steps, waiting, some, drawer)


def _has_steps(some: Node) -> bool:
    """Whether steps are for some cabinets, and not what stands before or after one."""
    return any(not isinstance(each, Node) and _STEP.match(each[1]) for each in some.body)


def _guards(block: Node) -> bool:
    """A signal word, also one that is for some cabinets."""
    within = [each for each in block.body if isinstance(each, Node)] if block.name == "only" else [block]
    return any(each.name in SIGNALS for each in within)


def _take_line(each: tuple[int, str], steps: list[_Step], waiting: list[Node], some: Node | None, drawer: Drawer) -> None:
    line, text = each
    found = _STEP.match(text)
    if found:
        number = int(found.group(1))
        if number != len(steps) + 1:
            drawer.report(line, f"Step {number} stands where step {len(steps) + 1} is due.",
                          "Number the steps in order.")  # fmt: skip
        steps.append(_Step(len(steps) + 1, found.group(2), list(waiting)))
        steps[-1].only = some
        waiting.clear()
    elif text.strip() and steps and text.startswith((" ", "\t")):
        steps[-1].why.append(text.strip())
    elif text.strip():
        drawer.report(line, "This line is neither a step nor the reason of one.",
                      "Begin a step with its number, and indent its reason.")  # fmt: skip


def _draw_step(step: _Step, listed: etree.Element, stem: str, drawer: Drawer) -> etree.Element:
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
    return item
