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

from .house import ROOT
from .progress import Progress, Trouble

FOLDER = ROOT / ".cache" / "fuzz"
TELL = 20  # seconds between two lines about how far it is
# What share of the texts a calculator gets; a plan or a float takes long.
SHARES = {"clearance": 0.13, "circuit": 0.12, "spiral": 0.11, "float": 0.05, "plan": 0.07, "level": 0.08,
          "outlet": 0.08, "handling": 0.07, "standing": 0.07, "cold": 0.07, "restock": 0.05, "cash": 0.05, "energy": 0.05}  # fmt: skip


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
    thrown({name: round(args.runs * share) for name, share in SHARES.items()}, args.seed, args.jobs, progress)
    progress.step("Judging what is suspected, with nothing that slows it down")
    found = judged()
    for name, text, why in found:
        print(f"\n{name}: {why}\n{json.dumps({'why': why, 'name': name, 'text': [text]})}")
    print(f"\n{args.runs} texts to {len(SHARES)} calculators: {len(found)} badly answered.")
    return 1 if found else 0


def thrown(runs: dict[str, int], seed: int, jobs: int, progress: Progress) -> None:
    """Run one fuzzer a calculator, so many at once; Trouble where one ends otherwise than by itself."""
    waiting = sorted(runs, key=lambda name: -runs[name])
    working: dict[str, subprocess.Popen[bytes]] = {}
    while waiting or working:
        while waiting and len(working) < jobs:
            name = waiting.pop()
            working[name] = begun(name, runs[name], seed)
        time.sleep(1)
        if int(time.monotonic()) % TELL == 0:
            progress.note("; ".join(f"{name} {_last(name)} of {runs[name]}" for name in working))
        for name, process in list(working.items()):
            if process.poll() is not None:
                ended(name, working.pop(name), progress)


def begun(name: str, runs: int, seed: int) -> subprocess.Popen[bytes]:
    """Start the fuzzer of one calculator."""
    folder = FOLDER / name
    folder.mkdir(parents=True)
    command = [sys.executable, "-m", "tools.fuzzing.loop", str(folder), name, str(runs), str(seed)]
    with (folder / "log.txt").open("wb") as log:
        return subprocess.Popen(command, cwd=ROOT, stdin=subprocess.DEVNULL, stdout=log, stderr=log)


def ended(name: str, process: subprocess.Popen[bytes], progress: Progress) -> None:
    """Say that one is done."""
    if process.returncode:
        raise Trouble(f"The fuzzer of {name} ended with {process.returncode}:\n{_tail(name, 12)}")
    progress.note(f"{name}: {_tail(name, 1)}")


def _tail(name: str, lines: int) -> str:
    text = (FOLDER / name / "log.txt").read_text(encoding="utf-8", errors="replace")
    return "\n".join(text.splitlines()[-lines:])


def _last(name: str) -> str:
    return next((line.split()[0].lstrip("#") for line in reversed(_tail(name, 12).splitlines())
                 if line.startswith("#")), "0")  # fmt: skip


def judged() -> list[tuple[str, str, str]]:
    """The suspects that are badly answered here too: calculator, smallest text, and how."""
    from tools.fuzzing import judge, requests

    found = []
    for path in sorted(FOLDER.glob("*/suspects/*")):
        name, text = path.parts[-3], requests.text_of(path.read_bytes())
        if judge.fault(name, text):
            text = judge.smallest(name, text, judge.fault)
            found.append((name, text, judge.fault(name, text) or ""))
    return found
