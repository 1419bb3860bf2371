"""A page's front matter: what it says of itself, before its text."""

from __future__ import annotations

import copy
import functools
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

# Ten times as fast where the package brings it.
LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

BETWEEN = re.compile(r"---[ \t]*\n(.*?)^---[ \t]*\n", re.DOTALL | re.MULTILINE)


class NoFront(ValueError):
    """The front matter cannot be read; the text says why and where."""


def read(page: Path) -> dict[str, Any]:
    """The entries of a page's front matter, none where it has none; raises :class:`NoFront`."""
    try:
        found = BETWEEN.match(page.read_text(encoding="utf-8-sig").replace("\r\n", "\n"))
    except UnicodeDecodeError as error:
        raise NoFront("it is not saved as UTF-8") from error
    return copy.deepcopy(_entries(found[1])) if found else {}


@functools.lru_cache(maxsize=1024)
def _entries(front: str) -> dict[str, Any]:
    """What stands between the lines; a page's is asked for again and again."""
    try:
        told = yaml.load(front, LOADER)  # noqa: S506 - it is a safe one
    except yaml.YAMLError as error:
        line = getattr(getattr(error, "problem_mark", None), "line", 0) + 2
        raise NoFront(f"line {line}: {getattr(error, 'problem', error)}") from error
    if told is not None and not isinstance(told, dict):
        raise NoFront("it holds no entries such as title: Clean a cabinet")
    return told or {}


def said(meta: Mapping[str, Any]) -> tuple[str, ...]:
    """What people say who look for the page; raises :class:`NoFront` where that is no list of words."""
    told = meta.get("said", [])
    if not isinstance(told, list) or not all(isinstance(each, str) and each.strip() for each in told):
        raise NoFront("`said` is no list of words; write such as said: [too hot, leaning], with quotes round yes, no and numbers")
    return tuple(told)
