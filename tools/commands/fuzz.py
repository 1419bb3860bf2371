"""`fuzz`: inputs that nobody would give, thrown at whatever takes something from outside.

`door` is the JSON border, `blocks` a page of Markdown, `tables` and `workbooks` an operator's data, `logs` a temperature log:
they are guided by the branches that they reach. `links`, `shelves` (what a browser keeps) and `files` (what a reader opens)
are thrown at pages of the built handbook. Not part of the checks. What is found is made small where it can be and printed,
to be mended and then kept as a case: of the border in `tests/cases/door.json`, which the checks replay.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import time
from dataclasses import dataclass

from .house import ROOT
from .progress import Progress, Trouble

FOLDER = ROOT / ".cache" / "fuzz"
SHOWN = 300  # bytes of an input that is no text
TELL = 20  # seconds between two lines about how far it is
GUIDED = ("door", "blocks", "tables", "workbooks", "logs")
IN_PAGE = ("links", "shelves", "files")
# What share of the texts a calculator gets; a plan or a float takes long.
SHARES = {"clearance": 0.13, "circuit": 0.12, "spiral": 0.11, "float": 0.05, "plan": 0.07, "level": 0.08,
          "outlet": 0.08, "handling": 0.07, "standing": 0.07, "cold": 0.07, "restock": 0.05, "cash": 0.05, "energy": 0.05}  # fmt: skip


@dataclass(frozen=True)
class Job:
    """One fuzzer: of a target, of the border that of one calculator."""

    target: str
    name: str
    runs: int
    seconds: int

    @property
    def said(self) -> str:
        """What it is called."""
        return self.name if self.target == "door" else self.target


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What to throw at, how many inputs or how long, from which seed."""
    parser.add_argument("--target", nargs="+", choices=(*GUIDED, *IN_PAGE), default=["door"], metavar="NAME",
                        help=f"what to throw at: {', '.join((*GUIDED, *IN_PAGE))} (door)")  # fmt: skip
    parser.add_argument("--runs", type=int, default=300_000, metavar="N", help="how many inputs a target (300000)")
    parser.add_argument("--minutes", type=float, default=0, metavar="M", help="and no longer than so, a fuzzer (0: to the end)")
    parser.add_argument("--seed", type=int, default=1, help="another seed throws other inputs")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, metavar="N", help="how many at once")


def main(args: argparse.Namespace) -> int:
    """0 where every input was taken, or refused in words; 1 where not."""
    jobs = [job for target in args.target if target in GUIDED for job in jobs_of(target, args.runs, int(args.minutes * 60))]
    pages = [target for target in args.target if target in IN_PAGE]
    progress = Progress((2 if jobs else 0) + len(pages))
    found = guided(jobs, args, progress) if jobs else []
    for target in pages:
        progress.step(f"Throwing at pages: {target}")
        found += in_page(target, args, progress)
    for line in found:
        print(f"\n{line}")
    print(f"\n{', '.join(args.target)}: {len(found)} badly taken.")
    return 1 if found else 0


def jobs_of(target: str, runs: int, seconds: int) -> list[Job]:
    """The fuzzers of a target."""
    if target != "door":
        return [Job(target, target, runs, seconds)]
    return [Job("door", name, round(runs * share), seconds) for name, share in SHARES.items()]


def guided(jobs: list[Job], args: argparse.Namespace, progress: Progress) -> list[str]:
    """Run the fuzzers that are guided, and say what they found."""
    progress.step(f"Throwing {sum(job.runs for job in jobs)} inputs at most")
    # From the seed alone, so that the same command does the same again.
    shutil.rmtree(FOLDER, ignore_errors=True)
    thrown(jobs, args.seed, args.jobs, progress)
    progress.step("Judging what is suspected, with nothing that slows it down")
    return judged()


def in_page(target: str, args: argparse.Namespace, progress: Progress) -> list[str]:
    """Throw at pages of the built handbook."""
    from tools.fuzzing import inpage

    from . import build
    from .browsers import CHROMIUM, find

    if not (build.SITE / "index.html").is_file():
        raise Trouble("There is no handbook to throw at: run “python3 tools/handbook.py build”.")
    chromium = find([CHROMIUM], progress)[CHROMIUM]
    done, faults = inpage.fuzz(build.SITE, chromium, target, args.runs, args.minutes * 60, args.seed, progress.note)
    progress.note(f"{target}: {done} thrown")
    return [f"{target}, {each['page']}: {each['why']}\n{json.dumps(each['text'])}" for each in faults]


def thrown(jobs: list[Job], seed: int, most: int, progress: Progress) -> None:
    """Run the fuzzers, so many at once; Trouble where one ends otherwise than by itself."""
    waiting = sorted(jobs, key=lambda job: -job.runs)
    working: dict[Job, subprocess.Popen[bytes]] = {}
    while waiting or working:
        while waiting and len(working) < most:
            job = waiting.pop()
            working[job] = begun(job, seed)
        time.sleep(1)
        if int(time.monotonic()) % TELL == 0:
            progress.note("; ".join(f"{job.said} {_last(job)} of {job.runs}" for job in working))
        for job, process in list(working.items()):
            if process.poll() is not None:
                ended(job, working.pop(job), progress)


def begun(job: Job, seed: int) -> subprocess.Popen[bytes]:
    """Start a fuzzer."""
    folder = FOLDER / job.target / job.name
    folder.mkdir(parents=True)
    command = [sys.executable, "-m", "tools.fuzzing.loop", str(folder), job.target, job.name, str(job.runs), str(job.seconds),
               str(seed)]  # fmt: skip
    with (folder / "log.txt").open("wb") as log:
        return subprocess.Popen(command, cwd=ROOT, stdin=subprocess.DEVNULL, stdout=log, stderr=log)


def ended(job: Job, process: subprocess.Popen[bytes], progress: Progress) -> None:
    """Say that one is done."""
    if process.returncode:
        raise Trouble(f"The fuzzer of {job.said} ended with {process.returncode}:\n{_tail(job, 12)}")
    progress.note(f"{job.said}: {_tail(job, 1)}")


def _tail(job: Job, lines: int) -> str:
    text = (FOLDER / job.target / job.name / "log.txt").read_text(encoding="utf-8", errors="replace")
    return "\n".join(text.splitlines()[-lines:])


def _last(job: Job) -> str:
    return next((line.split()[0].lstrip("#") for line in reversed(_tail(job, 12).splitlines())
                 if line.startswith("#")), "0")  # fmt: skip


def judged() -> list[str]:
    """The suspects that are badly taken here too, as small as can be, and how."""
    from tools.fuzzing import judge, requests, targets

    found = []
    for path in sorted(FOLDER.glob("*/*/suspects/*")):
        target, name, data = path.parts[-4], path.parts[-3], path.read_bytes()
        if target != "door":
            why = targets.of(target).fault(data)
            found += [f"{target}: {why}\n{data[:SHOWN]!r}\n(whole in {path.relative_to(ROOT)})"] if why else []
        elif judge.fault(name, text := requests.text_of(data)):
            text = judge.smallest(name, text, judge.fault)
            why = judge.fault(name, text)
            found.append(f"{name}: {why}\n{json.dumps({'why': why, 'name': name, 'text': [text]})}")
    return found
