"""`mutate`: put faults in, one at a time, and see whether a test notices.

Not part of the checks: 600 faults take more than an hour on two cores. Recorded answers notice most
of what changes anything and are soon run: they go before, and the other tests are recorded, and
tried, for what they let pass. What no test noticed is printed; it fails where more than one in
twenty of the sample are neither noticed nor explained in `tests/mutants.toml`.
"""

from __future__ import annotations

import argparse
import os
from collections import Counter
from typing import TYPE_CHECKING

from .house import ROOT
from .progress import Progress, Trouble

if TYPE_CHECKING:
    from tools.mutation.crew import Crew
    from tools.mutation.mutant import Mutant
    from tools.mutation.reach import Reach, Store, Tests

CACHE = ROOT / ".cache" / "mutate"
KNOWN = ROOT / "tests" / "mutants.toml"
ALLOWED = 20  # one survivor in so many may go unexplained


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The sample's seed and size, and where to draw it from."""
    parser.add_argument("--seed", type=int, default=1, help="another seed draws another sample")
    parser.add_argument("--sample", type=int, default=600, metavar="N", help="how many faults (600)")
    parser.add_argument("--only", nargs="+", default=[], metavar="PATH", help="files or folders to draw from")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, metavar="N", help="how many at once")
    parser.add_argument("--record", action="store_true", help="record anew which test comes by which line")


def main(args: argparse.Namespace) -> int:
    """0 where enough of the faults were noticed, 1 where not."""
    from tools.mutation import accepted, crew, operators, reach, sample
    from tools.mutation.server import goes_first

    operators.check()
    known = accepted.read(KNOWN)
    progress = Progress(5)
    progress.step("Drawing the sample")
    mutants = sample.draw(ROOT, args.only, args.sample, args.seed)
    if not mutants:
        raise Trouble("There is nothing to change in: " + ", ".join(args.only))
    store = reach.Store(ROOT, CACHE / "reach")
    with crew.Crew(ROOT, args.jobs) as at_work:
        missing = store.missing(args.record)
        progress.step("Recording which recorded answer comes by which line")
        record(at_work, store, [file for file in missing if goes_first(file)], progress)
        progress.step(f"Trying {len(mutants)} faults by recorded answers")
        reached = store.reach()
        left = _passed(at_work, {mutant: reached.first(mutant.site) for mutant in mutants}, progress)
        explained = [mutant for mutant in left if accepted.why(known, mutant)]
        left = [mutant for mutant in left if mutant not in explained]
        progress.note(f"{len(left)} passed, and {len(explained)} more that are explained")
        progress.step("Recording which other test comes by which line")
        record(at_work, store, [file for file in missing if not goes_first(file)], progress)
        progress.step(f"Trying {len(left)} faults by all tests")
        survivors = in_order([*explained, *tried(at_work, store.reach(), left, progress)])
    return told(mutants, survivors, {mutant: accepted.why(known, mutant) for mutant in survivors})


def record(at_work: Crew, store: Store, files: list[str], progress: Progress) -> None:
    """Record these test files; one whose tests fail as they are is told and left out."""
    jobs = at_work.work(files, lambda file: {"do": "record", "file": file})
    for number, (file, answer) in enumerate(jobs, 1):
        progress.note(f"{number}/{len(files)} {file} ({answer['seconds']:.0f} s)")
        if "tests" not in answer:
            raise Trouble(f"{file} cannot be recorded:\n{answer['output']}")
        if answer["failed"]:
            progress.note(f"fail as they are, and are left out: {', '.join(answer['failed'])}")
        store.write(file, answer)


def tried(at_work: Crew, reached: Reach, mutants: list[Mutant], progress: Progress) -> list[Mutant]:
    """Those of the faults that no test noticed; what the first tests let pass is tried by all of those beside it."""
    left = _passed(at_work, {mutant: reached.tests(mutant.site) for mutant in mutants}, progress)
    again = {mutant: tests for mutant in left if (tests := reached.beside(mutant.site))}
    progress.note(f"{len(left)} passed; {len(again)} of them are tried by all tests beside them")
    return [mutant for mutant in left if mutant not in again] + _passed(at_work, again, progress)


def in_order(mutants: list[Mutant]) -> list[Mutant]:
    """By group, file and line."""
    return sorted(mutants, key=lambda mutant: (mutant.group, mutant.site.path, mutant.site.line))


def _passed(at_work: Crew, plans: dict[Mutant, Tests], progress: Progress) -> list[Mutant]:
    """Those that the tests of each let pass."""
    survivors = [mutant for mutant, plan in plans.items() if not plan]
    # The longest first, so that no core waits for the other at the end.
    jobs = sorted((mutant for mutant, plan in plans.items() if plan),
                  key=lambda mutant: -sum(sum(each.values()) for each in plans[mutant].values()))  # fmt: skip
    spent = 0.0
    answers = at_work.work(jobs, lambda mutant: {"do": "try", "path": mutant.site.path, "text": mutant.new,
                                                 "tests": plans[mutant]})  # fmt: skip
    for number, (mutant, answer) in enumerate(answers, 1):
        spent += answer["seconds"]
        # 0: every test passed; 5: none of them was there any more. All else is a failure.
        if not answer["signal"] and answer.get("code") in (0, 5):
            survivors.append(mutant)
            progress.note(f"passed: {mutant.site.path}:{mutant.site.line}: {' → '.join(mutant.changed)}")
        if number % 25 == 0:
            progress.note(f"{number}/{len(jobs)} tried, {spent:.0f} s of processor time")
    return survivors


def told(mutants: list[Mutant], survivors: list[Mutant], whys: dict[Mutant, str]) -> int:
    """Print what survived and how many of each group; the exit code."""
    from tools.mutation import accepted

    unexplained = [mutant for mutant in survivors if not whys[mutant]]
    for mutant in survivors:
        print(f"\n{mutant.diff()}\n  {whys[mutant] or 'Not explained.'}")
    if unexplained:
        print("\nTo explain one, give its entry in tests/mutants.toml a reason:\n")
        print("\n".join(accepted.entry(mutant) for mutant in unexplained))
    print("\nGroup         tried  survived  explained")
    groups = {"all": (mutants, survivors)} | {
        group: ([each for each in mutants if each.group == group],
                [each for each in survivors if each.group == group])
        for group in Counter(mutant.group for mutant in mutants)
    }  # fmt: skip
    for group, (of, left) in groups.items():
        explained = sum(bool(whys[mutant]) for mutant in left)
        print(f"{group:12}  {len(of):5}  {len(left):8}  {explained:9}   {100 * len(left) / len(of):5.1f} %")
    enough = len(unexplained) * ALLOWED <= len(mutants)
    print(f"\n{len(mutants) - len(survivors)} of {len(mutants)} noticed; {len(unexplained)} neither noticed nor "
          f"explained, at most {len(mutants) // ALLOWED} may be: {'enough' if enough else 'NOT enough'}.")  # fmt: skip
    return 0 if enough else 1
