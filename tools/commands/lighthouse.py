"""Lighthouse on a page behind a server: a check for what it says of access and practice, a figure for speed."""

from __future__ import annotations

import json
import os
import subprocess
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from .house import ROOT
from .progress import Trouble

PROGRAM = ROOT / "node_modules" / "lighthouse" / "cli" / "index.js"


@dataclass(frozen=True)
class Report:
    """What it says of one page: a score out of 100 for each category, and what fell short."""

    scores: dict[str, int]
    short: list[str]


def ask(node: str, chromium: str, address: str, categories: Iterable[str], left_out: Iterable[str] = ()) -> Report:
    """Return its report on a page as a phone shows it; `left_out` are audits that are not made.

    Raises:
        Trouble: it did not run.
    """
    with tempfile.TemporaryDirectory() as folder:
        answer = Path(folder) / "report.json"
        command = [
            node, str(PROGRAM), address, "--quiet", "--output=json", f"--output-path={answer}",
            "--no-enable-error-reporting", "--max-wait-for-load=300000", "--chrome-flags=--headless=new --no-sandbox",
            f"--only-categories={','.join(categories)}", *(f"--skip-audits={each}" for each in left_out),
        ]  # fmt: skip
        environment = {**os.environ, "CHROME_PATH": chromium}
        done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
        if done.returncode:
            raise Trouble(f"Lighthouse did not run on {address}:\n{done.stderr.strip()[-2000:]}")
        return read(json.loads(answer.read_text(encoding="utf-8")))


def read(found: dict[str, Any]) -> Report:
    """Return what matters of its whole answer."""
    audits = found["audits"]
    counted = [each["id"] for category in found["categories"].values()
               for each in category["auditRefs"] if each["weight"]]  # fmt: skip
    short = [f"{audits[key]['title']} ({key}, {audits[key].get('displayValue', '')})"
             for key in counted if audits[key]["score"] is not None and audits[key]["score"] < 1]  # fmt: skip
    scores = {key: round(100 * (category["score"] or 0)) for key, category in found["categories"].items()}
    return Report(scores, short)
