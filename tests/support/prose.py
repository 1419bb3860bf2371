"""What the tests read in a procedure's Markdown, and each fault as a sentence.

Every function takes a `Page` and returns what is wrong with it, in words; an empty list is a good
page. The words it judges by are data: tests/cases/procedures/words.toml.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from tools.blocks import country
from tools.blocks.steps import SIGNALS
from tools.blocks.tree import Node, read
from tools.pages import chart, fitbook

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
WORDS: dict[str, Any] = tomllib.loads(
    (ROOT / "tests/cases/procedures/words.toml").read_text(encoding="utf-8")
)
MOST_WORDS = 20
_MARK = re.compile(r"\{\{.*?\}\}")
_STEP = re.compile(r"^(\d+)\.\s+(.*)$")
_LINK = re.compile(r"\[([^\]]*)\]\(([^)]*)\)")


@dataclass
class Step:
    """One step: its order, the reasons under it, and the signal blocks before it."""

    number: int
    order: str
    why: list[str] = field(default_factory=list)
    before: list[Node] = field(default_factory=list)


@dataclass
class Page:
    """One Markdown page, read once."""

    name: str
    text: str

    @property
    def body(self) -> str:
        """What follows the front matter."""
        return self.text.split("---", 2)[2] if self.text.startswith("---") else self.text

    @property
    def tree(self) -> Node:
        """The blocks; a page whose blocks cannot be read fails at once."""
        found: list[str] = []
        node = read(self.body.splitlines(), 1, lambda *told: found.append(str(told)))
        assert not found, found
        return node

    def blocks(self, *names: str) -> list[Node]:
        """All blocks of these names, at any depth, in order."""
        return [node for node in _walk(self.tree) if node.name in names]

    @property
    def steps(self) -> list[Step]:
        """The numbered steps of all lists of steps."""
        return [step for block in self.blocks("steps") for step in _steps(block)]


def _walk(node: Node) -> Iterator[Node]:
    for child in node.children():
        yield child
        yield from _walk(child)


def _steps(block: Node) -> list[Step]:
    steps: list[Step] = []
    waiting: list[Node] = []
    for each in _level(block):
        if isinstance(each, Node):
            waiting += [each] if each.name in SIGNALS else []
        elif found := _STEP.match(each[1]):
            steps.append(Step(int(found.group(1)), found.group(2), before=waiting))
            waiting = []
        elif each[1].strip() and steps:
            steps[-1].why.append(each[1].strip())
    return steps


def _level(block: Node) -> Iterator[tuple[int, str] | Node]:
    """A list of steps with those for some cabinets in their places."""
    for each in block.body:
        if isinstance(each, Node) and each.name == "only":
            yield from _level(each)
        else:
            yield each


def page(path: Path) -> Page:
    """A page of the handbook, as the United States read it."""
    return Page(path.stem, country.text(path.read_text(encoding="utf-8"), "us"))


def _plain(text: str) -> str:
    """Prose without marks, links' addresses and emphasis; a mark stands for one short word."""
    return _LINK.sub(r"\1", _MARK.sub("it", text)).replace("*", "").replace("`", "")


def _holds(text: str, words: Iterable[str]) -> list[str]:
    """Those of the words or phrases that stand in the text as whole words."""
    low = text.lower()
    return [
        word for word in words
        if (word in low if not word[0].isalnum() else re.search(rf"\b{re.escape(word)}\b", low))
    ]  # fmt: skip


def long_steps(page: Page) -> list[str]:
    """Steps of more than twenty words; a mark counts as one."""
    return [
        f"step {step.number} has {count} words"
        for step in page.steps
        if (count := len(_MARK.sub("N", step.order).split())) > MOST_WORDS
    ]


def joined_steps(page: Page, orders: frozenset[str]) -> list[str]:
    """Steps that hold two actions: a joiner, or “and”, “or” or a comma before another order."""
    verbs = (orders | set(WORDS["orders"])) - set(WORDS["nouns"])
    nouns = rf"(?:{'|'.join(WORDS['nouns'])})\s+(?:it|them|the|a|an|each|all|both|your|its)"
    second = re.compile(rf"(?:\b(?:and|or)|,)\s+(?:{'|'.join(sorted(verbs))}|{nouns})\b")
    wrong = []
    for step in page.steps:
        told = _holds(_plain(step.order), WORDS["joiners"])
        told += second.findall(_plain(step.order).lower())
        wrong += [f"step {step.number} joins two actions with “{word}”" for word in told]
    return wrong


def unguarded_steps(page: Page) -> list[str]:
    """Hazard steps with no signal block before them that names their harm."""
    wrong = []
    told = ""
    for step in page.steps:
        told += " ".join(_said(node) for node in step.before).lower()
        wrong += [
            f"step {step.number}: no signal block before it names the hazard “{name}”"
            for name, hazard in WORDS["hazards"].items()
            if _holds(step.order, hazard["steps"]) and not _holds(told, hazard["told"])
        ]
    return wrong


def _said(node: Node) -> str:
    return " ".join([node.argument, *(text for _, text in node.lines())])


def vague_words(page: Page) -> list[str]:
    """Words that leave the reader to guess, anywhere on the page; no order in the passive."""
    wrong = [f"“{word}” is vague" for word in _holds(prose(page), WORDS["vague"])]
    done = rf"(?:\w+ed|{'|'.join(WORDS['passive_forms'])})"
    passive = re.compile(rf"\b(?:{'|'.join(WORDS['passive'])})\s+{done}\b")
    for step in page.steps:
        order = _plain(step.order)
        wrong += [f"step {step.number} is passive: “{word}”" for word in passive.findall(order)]
        if order.split()[0].lower() in WORDS["not_an_order"]:
            wrong.append(f"step {step.number} does not begin with what to do")
    return wrong


def other_words(page: Page) -> list[str]:
    """Words for which the handbook has another one."""
    text = prose(page)
    return [f"“{word}”: write “{WORDS['one_word'][word]}”" for word in _holds(text, WORDS["one_word"])]


_INVERTED = re.compile(
    r"(?:^|(?<=[.!?:]\s))((?:(?:Is|Are|Was|Were|Has|Had|Does|Did|Should|Can|Will)\s+(?:it|they|the|a|an|one|you|this|that|no|its|there|any|nobody)"
    r"|(?:Have|Do)\s+(?:they|you|we))\b[^.?!:]*)[.!:]", re.MULTILINE)  # fmt: skip


def inverted(page: Page) -> list[str]:
    """Conditions without “if”, which read as questions: a comma follows, and no question mark."""
    return [match.group(1) for match in _INVERTED.finditer(prose(page)) if "," in match.group(1)]


def typed_numbers(page: Page) -> list[str]:
    """Numbers with a unit that are typed, not drawn from rules or data."""
    units = sorted(WORDS["units"], key=len, reverse=True)
    count = rf"(?:\d+(?:[.,/]\d+)?[\s-]*|(?:{'|'.join(WORDS['number_words'])})[\s-]+)"
    found = re.compile(rf"(?<![\w-]){count}({'|'.join(map(re.escape, units))})(?!\w)", re.IGNORECASE)
    return [
        f"“{match.group()}” is typed"
        for match in found.finditer(_MARK.sub("it", page.body))
        if match.group()[0].isdigit() or match.group(1) not in WORDS["not_with_words"]
    ]


def lowered_starts(page: Page) -> list[str]:
    """Sentences that begin with a mark: what it prints begins with a small letter."""
    mark = r"\{\{(?:data company\.(?!emergency|name)|rule )[^}]*\}\}"
    return [
        f"a sentence begins with “{match.group(1)}”"
        for match in re.finditer(rf"(?:^|[.!?]\s+|^[ \d]+\.\s+)({mark})", page.body, re.MULTILINE)
    ]


def uncited_drawings(page: Page) -> list[str]:
    """A page without a drawing, a drawing with no step's number, a callout that is not cited."""
    figures = page.blocks("figure")
    wrong = [] if figures else ["no drawing"]
    for figure in figures:
        cited = {int(number) for number in re.findall(r"\((\d+)\)", _said(figure))}
        shown = callouts(figure.argument)
        if not cited:
            wrong.append(f"no step cites “{figure.argument}”")
        wrong += [f"“{figure.argument}” shows {n}, its words do not" for n in sorted(shown - cited)]
        wrong += [
            f"“{figure.argument}” cites step {n}, which is not there"
            for n in sorted(cited)
            if not 1 <= n <= len(page.steps)
        ]
    return wrong


@cache
def callouts(drawing: str) -> frozenset[int]:
    """The step numbers in a drawing's callouts."""
    svg = (DOCS / "assets" / "drawings" / f"{drawing}.svg").read_text(encoding="utf-8")
    return frozenset(int(n) for n in re.findall(r'r="11"[^>]*/><text[^>]*>(\d+)</text>', svg))


# Pages that the build makes from data, as a page of another folder names them.
MADE = {f"../{path}" for path in (chart.PATH, fitbook.PATH, "products/index.md")}


def broken_links(page: Page, folder: Path) -> list[str]:
    """Links to a page or to a heading that is not there. Made pages are left to the build."""
    wrong = []
    for _, target in _LINK.findall(page.body):
        address, _, anchor = target.partition("#")
        if "://" in address or address in MADE or address.startswith(("../sites/", "../cabinets/")):
            continue
        path = (folder / address).resolve() if address else folder / f"{page.name}.md"
        if not path.is_file():
            wrong.append(f"“{target}” leads nowhere")
        elif anchor and anchor not in _headings(path) | _anchors(path):
            wrong.append(f"“{target}” leads to no heading")
    return wrong


def _anchors(path: Path) -> set[str]:
    """The ids that steps and faults bear."""
    read = page(path)
    return {f"step-{step.number}" for step in read.steps} | {f"fault-{each.argument}" for each in read.blocks("fault")}


def _headings(path: Path) -> set[str]:
    lines = path.read_text(encoding="utf-8").splitlines()
    heads = [line.lstrip("# ").strip() for line in lines if re.match(r"^#{1,6} ", line)]
    return {re.sub(r"[\s-]+", "-", re.sub(r"[^\w\s-]", "", head).strip().lower()) for head in heads}


def prose(page: Page) -> str:
    """Everything that a reader reads through, a line each, without tables to fill in."""
    return "\n".join(text for _, text in _lines(page.tree))


def sentences(page: Page) -> tuple[list[str], list[str]]:
    """Orders of steps, and all other sentences: whole ones only, as they would be read aloud.

    A heading, and an item of a list without an end mark such as “Tape measure”, is no sentence: as a
    very short one it would make every page look easier than it is.
    """
    found: tuple[list[str], list[str]] = ([], [])
    for kind, text in _lines(page.tree):
        if kind == "step" or (kind == "text" and text.endswith(_ENDS)):
            found[kind == "text"].append(text)
    return found


_ENDS = (".", "?", "!", ":", ".”", "?”", "!”", ".)")
_UNREAD = re.compile(r"^(?:title|button|said): |^\s*$")
_ASKED = re.compile(r"^\s*(?:\d+\.|-|Yes:|No:)\s+")
_LEAD = re.compile(r"^\s*(?:(\d+)\.|[-*]|(#+))\s+")


def _lines(node: Node) -> Iterator[tuple[str, str]]:
    """Each line of prose with its kind: a step's order, a heading, or text."""
    if node.name in SIGNALS and node.argument:
        yield "heading", _plain(node.argument)
    for each in node.body:
        if isinstance(each, Node):
            if each.name == "only":
                yield from _lines(Node(node.name, "", each.line, each.body))
            elif each.name in {*SIGNALS, "steps", "figure", "fault"}:
                yield from _lines(each)
            continue
        if node.name == "fault":
            if not _UNREAD.match(each[1]):
                yield "text", _plain(_ASKED.sub("", each[1]))
            continue
        lead = _LEAD.match(each[1])
        text = _plain(_LEAD.sub("", each[1]).strip())
        if text and not text.startswith("|"):
            step = node.name == "steps" and lead and lead.group(1)
            yield ("step" if step else "heading" if lead and lead.group(2) else "text"), text


@cache
def glossary() -> tuple[str, ...]:
    """The words of the trade, which a reader learns from the glossary; longest first."""
    text = (DOCS / "reference" / "glossary.md").read_text(encoding="utf-8")
    words = re.findall(r"^([A-Z][^\n]*)\n:   ", text, re.MULTILINE)
    return tuple(sorted(words, key=len, reverse=True))


def without_glossary(text: str) -> str:
    """Each word of the glossary, singular or plural, becomes one short word."""
    known = "|".join(re.escape(word) for word in glossary())
    return re.sub(rf"\b(?:{known})(?:s|es)?\b", "part", text, flags=re.IGNORECASE)
