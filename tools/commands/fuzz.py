"""`fuzz`: texts that nobody would send, thrown at the JSON border by the coverage they reach.

Not part of the checks. What it finds is made small and printed, to be mended and then kept as a case
in `tests/cases/door.json`, which the checks replay.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

from .environment import ROOT
from .progress import Progress, Trouble

FOLDER = ROOT / ".cache" / "fuzz"
TELL = 20  # seconds between two lines about how far it is


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """How many runs, from which seed."""
    parser.add_argument("--runs", type=int, default=300_000, metavar="N", help="how many texts (300000)")
    parser.add_argument("--seed", type=int, default=1, help="another seed throws other texts")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, metavar="N", help="how many at once")


def main(args: argparse.Namespace) -> int:
    """0 where every answer was as it must be, 1 where not."""
    progress = Progress(2)
    progress.step(f"Throwing {args.runs} texts")
    # From the seed alone, so that the same command does the same again.
    shutil.rmtree(FOLDER, ignore_errors=True)
    folders = [FOLDER / str(number) for number in range(args.jobs)]
    thrown(folders, args.runs, args.seed, progress)
    progress.step("Judging what is suspected, with nothing that slows it down")
    found = judged(folders)
    for name, text, why in found:
        print(f"\n{name}: {why}\n{json.dumps({'why': why, 'name': name, 'text': [text]})}")
    print(f"\n{args.runs} texts to {len(_names())} calculators: {len(found)} badly answered.")
    return 1 if found else 0


def _names() -> tuple[str, ...]:
    import calculators

    return calculators.NAMES


def thrown(folders: list[Path], runs: int, seed: int, progress: Progress) -> None:
    """Run one fuzzer a folder, each its part of the runs with a seed of its own."""
    each = -(-runs // len(folders))
    working = []
    for number, folder in enumerate(folders):
        folder.mkdir(parents=True)
        command = [sys.executable, "-m", "tools.fuzzing.loop", str(folder), str(each), str(seed * 1000 + number)]
        with (folder / "log.txt").open("wb") as log:
            working.append(subprocess.Popen(command, cwd=ROOT, stdout=log, stderr=log))
    while any(process.poll() is None for process in working):
        time.sleep(TELL)
        progress.note("; ".join(_last(folder) for folder in folders))
    for folder, process in zip(folders, working, strict=True):
        if process.returncode:
            raise Trouble(f"The fuzzer ended with {process.returncode}:\n{_tail(folder)}")


def _tail(folder: Path, lines: int = 12) -> str:
    text = (folder / "log.txt").read_text(encoding="utf-8", errors="replace")
    return "\n".join(text.splitlines()[-lines:])


def _last(folder: Path) -> str:
    return next((line.split("corp")[0].strip() for line in reversed(_tail(folder).splitlines())
                 if line.startswith("#")), "begun")  # fmt: skip


def judged(folders: list[Path]) -> list[tuple[str, str, str]]:
    """The suspects that are badly answered here too: calculator, smallest text, and how."""
    from tools.fuzzing import judge, requests

    found = []
    for path in sorted(path for folder in folders for path in (folder / "suspects").glob("*")):
        name, text = requests.unpacked(path.read_bytes())
        if judge.fault(name, text):
            text = judge.smallest(name, text, judge.fault)
            found.append((name, text, judge.fault(name, text) or ""))
    return found
