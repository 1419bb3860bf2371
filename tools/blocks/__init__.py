"""The handbook's Markdown blocks, as a plain Python-Markdown extension.

Two small parts: a preprocessor reads the page into a tree (and reports every mistake with
its line), and a block processor turns each top-level block into elements, so that links
and inline marks inside blocks go through Markdown like any other text.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as etree
from collections.abc import Callable

from markdown import Markdown
from markdown.blockparser import BlockParser
from markdown.blockprocessors import BlockProcessor
from markdown.extensions import Extension
from markdown.preprocessors import Preprocessor

from tools.problems import nearest

from . import (
    calculator,
    caution,
    country,
    fault,
    figure,
    figures,
    lists,
    only,
    sites,
    steps,
    worksheet,
)
from .context import Context
from .tree import Node, numbered
from .values import fill

_PLACE = "\u0002block:{}\u0003"
_PLACED = re.compile("^\u0002block:(\\d+)\u0003$")

Draw = Callable[[Node, etree.Element, "Drawer"], None]
BLOCKS: dict[str, Draw] = {
    "calculator": calculator.draw_calculator,
    "reference": calculator.draw_reference,
    "worksheet": worksheet.draw_worksheet,
    "danger": caution.draw,
    "warning": caution.draw,
    "caution": caution.draw,
    "notice": caution.draw,
    "steps": steps.draw,
    "only": only.draw,
    "figure": figure.draw,
    "figures": figures.draw,
    "faults": fault.draw_grid,
    "fault": fault.draw,
    "record": lists.draw_record,
    "signoff": lists.draw_signoff,
    "sites": sites.draw,
}


class Drawer:
    """Draws blocks into elements; handed to every block so that blocks can nest."""

    def __init__(self, context: Context, md: Markdown, parser: BlockParser) -> None:
        self.context = context
        self.md = md
        self.parser = parser

    def draw(self, node: Node, parent: etree.Element) -> None:
        """Draw one block by its name."""
        BLOCKS[node.name](node, parent, self)

    def body(self, node: Node, parent: etree.Element) -> None:
        """Draw a body in which text and nested blocks stand in any order."""
        text: list[str] = []
        for each in [*node.body, None]:
            if isinstance(each, tuple):
                text.append(each[1])
                continue
            self.text("\n".join(text), parent)
            text = []
            if each is not None:
                self.draw(each, parent)

    def text(self, text: str, parent: etree.Element) -> None:
        """Read Markdown into an element."""
        if text.strip():
            self.parser.parseChunk(parent, text.strip("\n"))

    def raw(self, html: str, parent: etree.Element) -> None:
        """Put finished HTML into an element."""
        holder = etree.SubElement(parent, "div")
        holder.text = self.md.htmlStash.store(html)

    def report(self, line: int, what: str, mend: str) -> None:
        """Note a mistake."""
        self.context.report(line, what, mend)


class _Reader(Preprocessor):
    def __init__(self, md: Markdown, context: Context, nodes: list[Node]) -> None:
        super().__init__(md)
        self.context = context
        self.nodes = nodes

    def run(self, lines: list[str]) -> list[str]:
        """Replace every top-level block by a place that the processor finds again."""
        context = self.context
        read = list(enumerate(lines, context.first))
        if context.marks:
            read = [(number, fill(text, number, context))
                    for number, text in country.kept(read, context.rules.name, context.report)]  # fmt: skip
        root = numbered(read, context.first, context.report)
        self._check_names(root)
        self.nodes.clear()
        out: list[str] = []
        for each in root.body:
            if isinstance(each, Node):
                out += ["", _PLACE.format(len(self.nodes)), ""]
                self.nodes.append(each)
            else:
                out.append(each[1])
        return out

    def _check_names(self, node: Node) -> None:
        for child in list(node.children()):
            if child.name not in BLOCKS:
                self.context.report(child.line, f"There is no block “{child.name}”.",
                                    nearest(child.name, list(BLOCKS)))  # fmt: skip
                node.body.remove(child)
            else:
                self._check_names(child)


class _Placer(BlockProcessor):
    def __init__(self, parser: BlockParser, drawer: Drawer, nodes: list[Node]) -> None:
        super().__init__(parser)
        self.drawer = drawer
        self.nodes = nodes

    def test(self, parent: etree.Element, block: str) -> bool:
        """Whether this chunk is the place of a block."""
        return bool(_PLACED.match(block.strip()))

    def run(self, parent: etree.Element, blocks: list[str]) -> bool:
        """Draw the block that belongs here."""
        found = _PLACED.match(blocks.pop(0).strip())
        if found:
            self.drawer.draw(self.nodes[int(found.group(1))], parent)
        return True


class HandbookBlocks(Extension):
    """The extension; ``context`` carries rules, data and the list of mistakes."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802 - Python-Markdown's own name
        """Register the reader before every other preprocessor but line normalising."""
        nodes: list[Node] = []
        drawer = Drawer(self.context, md, md.parser)
        md.preprocessors.register(_Reader(md, self.context, nodes), "handbook_blocks", 28)
        md.parser.blockprocessors.register(
            _Placer(md.parser, drawer, nodes), "handbook_blocks", 200
        )
