"""The words of a country: everything is written in American English, and ``rules/words.toml`` says what others say.

A text is changed where it leaves: pages when they are finished, answers at the border. What the operator typed
is never changed: whoever calls says which phrases are theirs.
"""

from __future__ import annotations

import functools
import json
import pkgutil
import re
from collections.abc import Iterable, Mapping
from html import escape
from typing import Any

BASE = "us"
# Read where a set names no word of its own.
_AFTER = {"eu": "uk"}
_LONGEST = 1000
_TAG = re.compile(r"(<!--.*?-->|<[^>]*>)", re.DOTALL)
_NAME = re.compile(r"<(/?)([a-zA-Z][\w-]*)")
# Inside of these a text is a name, a program or what somebody typed.
_AS_IT_IS = frozenset({"code", "kbd", "pre", "samp", "script", "style", "textarea"})
_TOLD = re.compile(r'(?<=\s)(alt|aria-label|aria-description|placeholder|title)="([^"]*)"')
# Parts of an answer that are sentences, and those that are markup; the rest are numbers and names for programs.
_SENTENCES = frozenset({
    "actions", "after_word", "at", "brief", "caution", "citation", "citations", "columns", "decides", "headline",
    "help", "label", "limit", "looser", "mend", "message", "needs_labels", "not_checked", "note", "place", "plain",
    "rows", "source", "spare", "text", "title", "word",
})  # fmt: skip
_MARKUP = frozenset({"figures", "html", "verdict"})


class Words:
    """A country's way of saying our texts. ``kept`` are phrases that stay as somebody typed them."""

    def __init__(self, said: Mapping[str, str], kept: Iterable[str] = (), whole: Mapping[str, str] | None = None) -> None:
        self.whole = whole or {}
        self.said = {**{_key(word): word for word in said.values()}, **said}
        self.said.update({_key(each): each for each in kept})
        longest = sorted(self.said, key=lambda word: (-len(word), word))
        choice = "|".join(re.escape(word) for word in longest)
        self._seen = re.compile(rf"(?<![\w.-])(?:(an?) )?({choice})(?![\w-])", re.IGNORECASE) if said else None

    def say(self, text: str) -> str:
        """A text in this country's words."""
        if self._seen is None:
            return text
        alone = text.strip()
        if told := self.whole.get(_key(alone)):
            return text.replace(alone, _like(alone, told))
        return self._seen.sub(self._put, text)

    def _put(self, found: re.Match[str]) -> str:
        article, word = found.groups()
        told = self.said.get(_key(word), word)
        if told.lower() == word.lower():
            return found.group()
        told = _like(word, told)
        return f"{_article(article, told)} {told}" if article else told

    def markup(self, text: str) -> str:
        """The texts of HTML or SVG; tags, code, what somebody typed and what bears ``translate="no"`` stay."""
        if self._seen is None:
            return text
        out: list[str] = []
        inside: list[str] = []
        for part in _TAG.split(text):
            _step(inside, part)
            out.append(part if inside else self._part(part))
        return "".join(out)

    def _part(self, part: str) -> str:
        """A text, or what a tag says to whoever hears or points at it."""
        if not part.startswith("<"):
            return self.say(part)
        return part if part.startswith("<!") else _TOLD.sub(lambda told: f'{told[1]}="{self.say(told[2])}"', part)

    def answer(self, data: Any, key: str = "") -> Any:
        """A calculator's answer, or its errors, as plain data: its sentences and its markup."""
        if isinstance(data, dict):
            return {name: self.answer(each, name) for name, each in data.items()}
        if isinstance(data, list | tuple):
            return [self.answer(each, key) for each in data]
        if not isinstance(data, str) or key not in _SENTENCES | _MARKUP:
            return data
        return self.markup(data) if key in _MARKUP else self.say(data)


def of(rule_set: str, typed: Any = None) -> Words:
    """The words of a rule set; phrases anywhere in ``typed``, which somebody wrote, are left alone.

    A single word in small letters is no phrase: it is as likely the name of a choice. In markup a phrase may
    stand with its signs escaped; another way of escaping it is for the caller to add.
    """
    said = _said(rule_set)
    plain = _plain(rule_set)
    mine = {text for text in _texts(typed) if (" " in text or text != text.lower()) and plain.say(text) != text}
    return Words(said, {*mine, *map(escape, mine)}, plain.whole) if mine else plain


@functools.cache
def _plain(rule_set: str) -> Words:
    return Words(_said(rule_set), whole=_said(rule_set, whole=True))


@functools.cache
def _said(rule_set: str, *, whole: bool = False) -> dict[str, str]:
    """Word → what is said for it; ``whole`` for those that count only where they are all of a text."""
    said: dict[str, str] = {}
    for row in [] if rule_set == BASE else listed():
        if row.get("whole", False) is not whole:
            continue
        told = row.get(rule_set, row.get(_AFTER.get(rule_set, ""), ""))
        if told:
            said[_key(row["us"])] = told
            if row.get("plural", True):
                said[_key(plural(row["us"]))] = plural(told)
    return said


@functools.cache
def listed() -> list[dict[str, Any]]:
    """The rows of the list; the copy packed for the browser is JSON."""
    for ending in ("json", "toml"):
        try:
            data = pkgutil.get_data("calculators.rules", f"words.{ending}") or b""
        except OSError:
            continue
        if ending == "json":
            return list(json.loads(data)["word"])
        import tomllib  # not wanted in the browser, where importing it would cost the reader time

        return list(tomllib.loads(data.decode())["word"])
    return []


def plural(word: str) -> str:
    """The plural by the rules of spelling."""
    if re.search(r"[^aeiou]y$", word):
        return f"{word[:-1]}ies"
    return f"{word}es" if re.search(r"(?:s|x|ch|sh)$", word) else f"{word}s"


def _key(word: str) -> str:
    return word.lower()


def _like(word: str, told: str) -> str:
    """A word with a capital where the one that it stands for has one."""
    return told[0].upper() + told[1:] if word[0].isupper() and word[1:2].islower() else told


def _article(article: str, told: str) -> str:
    first = told.split("-", maxsplit=1)[0].split(maxsplit=1)[0]
    letters = "AEFHILMNORSX" if first.isupper() else "aeiouAEIOU"
    made = "an" if first[0] in letters and not first.startswith(("use", "Use")) else "a"
    return made.capitalize() if article[0].isupper() else made


def _texts(value: Any) -> Iterable[str]:
    if isinstance(value, str):
        if len(value) <= _LONGEST:  # of a longer one, such as a log, an answer repeats no phrase
            yield " ".join(value.split())
    elif isinstance(value, Mapping):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _texts(each)


def _step(inside: list[str], tag: str) -> None:
    """Enter or leave an element whose texts stay; others do not matter."""
    found = _NAME.match(tag)
    if found is None or tag.endswith("/>"):
        return
    closing, name = found[1], found[2].lower()
    if inside:
        if name == inside[-1]:  # another of the same name within it is entered and left as well
            inside.pop() if closing else inside.append(name)
    elif not closing and (name in _AS_IT_IS or 'translate="no"' in tag):
        inside.append(name)
