"""The script behind the page *Check this copy*: cases with known answers, and what no handbook is told off for."""

from __future__ import annotations

import json

from tools.book.answers import Answers
from tools.results import published

PATH = "assets/copy.js"


def script(rules: str, stray: str, answers: Answers | None = None) -> str:
    """``rules`` is the operator's set, ``stray`` is the pattern of files that systems put beside everybody's.

    ``answers`` may have the examples' answers from before.
    """
    told = {"stray": stray, "cases": [*published.listed(), *published.examples(rules, answers)]}
    return f"(self.HandbookAssets ??= {{}}).copy = {json.dumps(told, ensure_ascii=False, separators=(',', ':'))};\n"
