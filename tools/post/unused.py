"""Takes out of the theme's style sheets what no page of the handbook has.

That is rules by a class that neither a page nor a script of the site names, and named values that no rule asks for. It errs on the side of keeping: a class is known where its name, or what its name begins with up to two strokes, stands
anywhere in a page or a script; what stands in brackets of a selector is not looked at.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from pathlib import Path

from . import pages

SHEETS = "assets/stylesheets/*.css"
WORD = re.compile(r"[A-Za-z_-][\w-]*")
CLASS = re.compile(r"\.(-?[A-Za-z_][\w-]*)")
VALUE = re.compile(r"--[\w-]+(?=\s*:)")
BRACKETED = re.compile(r"\[[^\]]*\]|\([^()]*\)")
# Rules that hold rules, of which each is looked at.
GROUPS = ("@media", "@supports", "@layer", "@container")
ASKED = re.compile(r"var\(\s*(--[\w-]+)|[\"'`](--[\w-]+)")
PIECE = re.compile(r"""("(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*'|/\*.*?\*/|url\([^"')]*\)|[(){}\[\];,])""", re.DOTALL)


def trim(site: Path, words: Collection[str] | None = None) -> None:
    """Make the theme's style sheets smaller, after all pages and scripts are in their place.

    ``words`` are those of :func:`wanted` that stand in a page (:func:`named`), where that is known already.
    """
    found = sorted(site.glob(SHEETS))
    told = [pages.read(path) for pattern in ("*.html", "*.js") if words is None or pattern != "*.html"
            for path in sorted(site.rglob(pattern)) if "runtime" not in path.parts]  # fmt: skip
    known = {word for text in told for word in WORD.findall(text)} | set(words or ())
    told.append(" ".join(f'"{word}"' for word in words or ()))
    sheets = {path: without(pages.read(path), known) for path in found}
    others = [pages.read(path) for path in sorted(site.rglob("*.css")) if path not in sheets]
    for path, text in bare(sheets, [*others, *told]).items():
        pages.write(path, text)


def wanted(site: Path) -> frozenset[str]:
    """All that the theme's style sheets may look for in a page: classes, and named values."""
    texts = [pages.read(path) for path in site.glob(SHEETS)]
    classes = {part for text in texts for name in CLASS.findall(text) for part in (name, name.split("--")[0])}
    return frozenset(classes | {name for text in texts for name in VALUE.findall(text)})


def named(text: str, asked: frozenset[str]) -> list[str]:
    """Those of them that a page names."""
    return sorted(asked.intersection(WORD.findall(text)))


def bare(sheets: Mapping[Path, str], others: Sequence[str]) -> Mapping[Path, str]:
    """Return style sheets without named values that neither they nor other texts ask for; one may name another."""
    asked = {name for text in (*sheets.values(), *others) for pair in ASKED.findall(text) for name in pair if name}
    found = {path: unasked(text, asked) for path, text in sheets.items()}
    return found if found == sheets else bare(found, others)


def without(sheet: str, known: Collection[str]) -> str:
    """Return a style sheet without the selectors that need a class nobody has."""
    return "".join(_kept(prelude, block, known) for prelude, block in rules(sheet))


def _kept(prelude: str, block: str | None, known: Collection[str]) -> str:
    if block is None:
        return prelude
    if prelude.startswith("@"):
        inside = without(block, known) if prelude.startswith(GROUPS) else block
        return f"{prelude}{{{inside}}}" if inside else ""
    selectors = [each for each in split(prelude, ",") if is_needed(each, known)]
    return f"{','.join(selectors)}{{{block}}}" if selectors else ""


def is_needed(selector: str, known: Collection[str]) -> bool:
    """Whether something may have all classes that a selector names outside brackets."""
    if "\\" in selector:
        return True
    while (outside := BRACKETED.sub("", selector)) != selector:
        selector = outside
    return all(name in known or name.split("--")[0] in known for name in CLASS.findall(selector))


def unasked(sheet: str, asked: Collection[str]) -> str:
    """Return a style sheet without the values that have a name and are asked for by none."""
    return "".join(_asked(prelude, block, asked) for prelude, block in rules(sheet))


def _asked(prelude: str, block: str | None, asked: Collection[str]) -> str:
    if block is None:
        return prelude
    if prelude.startswith(GROUPS):
        return f"{prelude}{{{unasked(block, asked)}}}"
    if prelude.startswith("@"):
        return f"{prelude}{{{block}}}"
    kept = [each for each in split(block, ";") if not (each.startswith("--") and each.split(":")[0].strip() not in asked)]
    return f"{prelude}{{{';'.join(kept)}}}" if any(kept) else ""


def rules(sheet: str) -> Iterator[tuple[str, str | None]]:
    """Each rule of a style sheet as what stands before its braces and within; a statement without braces has no block."""
    prelude, block, depth = "", "", 0
    for piece in PIECE.split(sheet):
        depth += (piece == "{") - (piece == "}")
        if piece == "}" and depth == 0:
            yield prelude.strip(), block[1:]
            prelude = block = ""
        elif depth:
            block += piece
        elif piece == ";":
            yield f"{prelude}{piece}".strip(), None
            prelude = ""
        else:
            prelude += piece
    if prelude.strip():
        yield prelude.strip(), None


def split(text: str, mark: str) -> list[str]:
    """The parts of a text between marks that stand in no bracket and in no string."""
    parts, depth = [""], 0
    for piece in PIECE.split(text):
        depth += (piece in tuple("([{")) - (piece in tuple(")]}"))
        if piece == mark and not depth:
            parts.append("")
        else:
            parts[-1] += piece
    return parts
