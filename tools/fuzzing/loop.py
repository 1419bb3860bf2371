"""The process that the fuzzer drives: `python -m tools.fuzzing.loop FOLDER TARGET NAME RUNS SECONDS SEED`.

TARGET is `door`, with the NAME of a calculator, or one of :mod:`targets`. It ends after so many RUNS or SECONDS, whichever
comes first (0 seconds: never). Suspects are written into FOLDER/suspects, one a kind of fault, and the run goes on.
"""

from __future__ import annotations

import hashlib
import re
import sys
from collections.abc import Callable
from pathlib import Path

import atheris

TARGET = sys.argv[2] if __name__ == "__main__" else "door"
# What is to be guided by its branches has to be imported here.
PACKAGES = {"blocks": ["tools.blocks", "tools.pages"], "tables": ["tools.book", "calculators"], "workbooks": ["tools.book"]}

with atheris.instrument_imports(include=PACKAGES.get(TARGET, ["calculators"])):
    import calculators
    from calculators.core import forms, html  # noqa: F401 - so that all of it is instrumented

    if TARGET == "blocks":
        import tools.blocks
        import tools.pages.proof
    elif TARGET in {"tables", "workbooks"}:
        import tools.book.data  # noqa: F401
    for _each in calculators.NAMES:
        calculators.get(_each)

# The calculators come first, to be instrumented.
from . import judge, requests, targets  # noqa: E402

LONGEST = 60_000
# The instrumented code is so much slower than by itself; what is suspected is timed again outside.
SLOWER = 2.0


class Loop:
    """Judges each input, and keeps one of each kind of fault."""

    def __init__(self, folder: Path, fault: Callable[[bytes], str | None], changed: Callable[[bytes, int], bytes]) -> None:
        self.fault, self.changed = fault, changed
        self.suspects = folder / "suspects"
        self.suspects.mkdir(parents=True, exist_ok=True)

    def one(self, data: bytes) -> None:
        """Judge one input; of each kind of fault the shortest is kept."""
        found = self.fault(data)
        if found:
            kind = re.sub(r"[\d'\"“”].*", "", found)
            path = self.suspects / hashlib.sha256(kind.encode()).hexdigest()[:12]
            if not path.exists() or path.stat().st_size > len(data):
                path.write_bytes(data)

    def mutate(self, data: bytes, most: int, seed: int) -> bytes:
        """Mostly another input of its kind, now and then other bytes."""
        if seed % 6:
            new = self.changed(data, seed)
            if new != data and len(new) <= most:
                return new
        return bytes(atheris.Mutate(data, most))


def wired(target: str, name: str) -> targets.Target:
    """What is to be fuzzed, as a target."""
    if target != "door":
        return targets.of(target)
    return targets.Target(lambda: requests.seeds(name), lambda data: judge.fault(name, requests.text_of(data), SLOWER),
                          lambda data, seed: requests.changed(name, data, seed))  # fmt: skip


def main(folder: str, target: str, name: str, runs: str, seconds: str, seed: str) -> None:
    """Fuzz; the fuzzer ends the process."""
    at = Path(folder)
    corpus = at / "corpus"
    corpus.mkdir(parents=True, exist_ok=True)
    wanted = wired(target, name)
    for number, data in enumerate(wanted.seeds()):
        (corpus / str(number)).write_bytes(data)
    loop = Loop(at, wanted.fault, wanted.changed)
    options = [f"-runs={runs}", f"-max_total_time={seconds}", f"-seed={seed}", f"-max_len={LONGEST}", "-timeout=3600",
               "-rss_limit_mb=4096", f"-artifact_prefix={at}/", "-len_control=0", "-reload=0"]  # fmt: skip
    atheris.Setup([sys.argv[0], *options, str(corpus)], loop.one, custom_mutator=loop.mutate)
    atheris.Fuzz()


if __name__ == "__main__":
    main(*sys.argv[1:])
