"""Takes out of a script that its makers made small what nobody in it calls.

Only what can be told for certain from the text goes: what has a name that stands nowhere else, and whose end
is found without a parser.
"""

from __future__ import annotations

import re
from collections import Counter

WORD = re.compile(r"[\w$]+")
# A function by itself; a variable that is one; a variable that is another's value, or an arrow and one expression.
# The last may hold no "=", so it is no list of variables.
MADE = re.compile(
    r"(?<=[;{}])(?:(?:async )?function (?P<function>[\w$]+)\([\w$,]*\)(?=\{)"
    r"|var (?P<variable>[\w$]+)=(?:async )?(?:function\([\w$,]*\)|(?:\([\w$,]*\)|[\w$]+)=>)(?=\{)"
    r"|var (?P<plain>[\w$]+)=(?:[\w$.]+|(?:\([\w$,.]*\)|[\w$]+)=>[^;{}\"'`/=]*);)"
)
STRINGS = re.compile(r"\"(?:[^\"\\]|\\.)*\"|'(?:[^'\\]|\\.)*'")
# Templates, comments, regular expressions: their brackets need not match.
UNSURE = re.compile(r"[`\\]|//|/\*|[=(,:!&|?{};]/|return/")


def without_idle(script: str) -> str:
    """Return the script without its idle functions, and without those that only they called."""
    while True:
        said = Counter(WORD.findall(script))
        smaller = _without(script, [made for made in MADE.finditer(script) if said[_name(made)] == 1])
        if smaller == script:
            return script
        script = smaller


def _name(made: re.Match[str]) -> str:
    return str(made[made.lastgroup or 0])


def _without(script: str, idle: list[re.Match[str]]) -> str:
    parts, at = [], 0
    for made in idle:
        end = _end(script, made)
        if made.start() >= at and end:
            parts.append(script[at : made.start()])
            at = end
    return "".join([*parts, script[at:]])


def _end(script: str, made: re.Match[str]) -> int:
    if made["plain"]:
        return made.end()
    end = end_of_body(script, made.end())
    if made["function"] or not end:
        return end
    # After a variable must come the next statement, not another variable.
    return end + 1 if script[end : end + 1] == ";" else 0


def end_of_body(script: str, start: int) -> int:
    """Return where the body ends that begins at `start`; 0 where that is not certain."""
    depth, at = 0, start
    while at < len(script):
        if string := STRINGS.match(script, at):
            at = string.end()
            continue
        depth += {"{": 1, "}": -1}.get(script[at], 0)
        at += 1
        if not depth:
            return 0 if UNSURE.search(STRINGS.sub('""', script[start:at])) else at
    return 0
