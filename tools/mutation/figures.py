"""Changes of the rule sets' figures: one value, unit or clause of one figure is another one."""

from __future__ import annotations

import re
from collections.abc import Iterator

from .mutant import Site

_NAME = re.compile(r"^\[(?!sources\b)([\w-]+)\]")
_OTHER_TABLE = re.compile(r"^\[")
_ENTRY = re.compile(r"^(value|unit|clause)\s*=\s*")
_QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"')
_WORDS = re.compile(r'"(?!-?\d+(?:\.\d+)?")(?:[^"\\]|\\.)*"')
_NUMBER = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?![\w.])|\b(?:true|false)\b")
# Another unit of the same kind, so that only the figure's size shows the fault.
OTHER_UNIT = {"in": "cm", "mm": "in", "cm": "in", "m": "ft", "ft": "m", "kg": "lb", "lb": "kg", "g": "oz",
              "oz": "g", "N": "lbf", "lbf": "N", "kgf": "N", "°F": "°C", "°C": "°F", "C": "F", "F": "C", "W": "kW",
              "kW": "W", "A": "mA", "mA": "A", "lb/ft²": "kg/m²", "psf": "kg/m²", "kg/m²": "lb/ft²",
              "kg/m2": "psf", "kPa": "kg/m²", "mm/m": "in/ft", "in/ft": "mm/m", "kN": "N",
              "m²": "ft²", "ft²": "m²", "Ω/km": "Ω/kft", "Ω/kft": "Ω/km"}  # fmt: skip


def sites(path: str, text: str) -> list[Site]:
    """Every place of a rule file; those of one figure count as one."""
    return [Site(path, operator, number, line, begin, owner=name)
            for number, (operator, name, line, begin, _, _) in enumerate(_places(text))]  # fmt: skip


def mutated(text: str, site: Site) -> str | None:
    """The file's text with the fault."""
    _, _, line, begin, end, new = list(_places(text))[site.occurrence]
    lines = text.splitlines(keepends=True)
    lines[line - 1] = lines[line - 1][:begin] + new + lines[line - 1][end:]
    return "".join(lines)


Place = tuple[str, str, int, int, int, str]  # operator, figure, line, begin, end, what comes there


def _places(text: str) -> Iterator[Place]:
    name, inside = "", False
    for number, line in enumerate(text.splitlines(), 1):
        if (found := _NAME.match(line)) or _OTHER_TABLE.match(line):
            name, inside = found[1] if found else "", False
            continue
        entry = _ENTRY.match(line)
        if entry or not line.startswith((" ", "]", "{", "\t")):
            inside = bool(entry) and entry is not None and entry[1] == "value"
        if not name:
            continue
        if inside:
            yield from _values(name, number, line)
        elif entry:
            yield from _words(name, number, line, entry)


def _values(name: str, number: int, line: str) -> Iterator[Place]:
    # Words in quotes are kept out of the search, at their length; sizes in quotes are figures.
    bare = _WORDS.sub(lambda found: '"' + "." * (len(found[0]) - 2) + '"', line).split("#")[0]
    for found in _NUMBER.finditer(bare):
        yield "FigureValue", name, number, found.start(), found.end(), _other(found[0])


def _other(word: str) -> str:
    if word in ("true", "false"):
        return "false" if word == "true" else "true"
    # A tenth more: large enough to matter, small enough to look right.
    return str(round(float(word) * 1.1 + 0.01, 6)) if "." in word else str(int(word) + max(1, abs(int(word)) // 10))


def _words(name: str, number: int, line: str, entry: re.Match[str]) -> Iterator[Place]:
    found = _QUOTED.search(line, entry.end())
    if not found:
        return
    word = found[0][1:-1]
    if entry[1] == "unit" and word in OTHER_UNIT:
        yield "FigureUnit", name, number, found.start(), found.end(), f'"{OTHER_UNIT[word]}"'
    elif entry[1] == "clause" and word:
        yield "FigureClause", name, number, found.start(), found.end(), f'"{_clause(word)}"'


def _clause(word: str) -> str:
    last = re.search(r"\d(?=\D*$)", word)
    if not last:
        return f"{word} 1"
    return word[: last.start()] + str((int(last[0]) + 1) % 10) + word[last.end() :]
