"""The process that the fuzzer drives: `python -m tools.fuzzing.loop FOLDER NAME RUNS SEED`.

Suspects are written into FOLDER/suspects, one a kind of fault, and the run goes on.
"""

from __future__ import annotations

import hashlib
import re
import sys
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["calculators"]):
    import calculators
    from calculators.core import forms, html  # noqa: F401 - so that all of it is instrumented

    for _each in calculators.NAMES:
        calculators.get(_each)

# The calculators come first, to be instrumented.
from . import judge, requests

LONGEST = 20_000
# The instrumented code is so much slower than by itself; what is suspected is timed again outside.
SLOWER = 2.0


class Loop:
    """Judges each text, and keeps one of each kind of fault."""

    def __init__(self, folder: Path, name: str) -> None:
        self.name = name
        self.suspects = folder / "suspects"
        self.suspects.mkdir(parents=True, exist_ok=True)

    def one(self, data: bytes) -> None:
        """Judge one input; of each kind of fault the shortest text is kept."""
        found = judge.fault(self.name, requests.text_of(data), SLOWER)
        if found:
            kind = re.sub(r"[\d'\"“”].*", "", found)
            path = self.suspects / hashlib.sha256(kind.encode()).hexdigest()[:12]
            if not path.exists() or path.stat().st_size > len(data):
                path.write_bytes(data)

    def mutate(self, data: bytes, most: int, seed: int) -> bytes:
        """Mostly another request, now and then other bytes."""
        if seed % 6:
            new = requests.changed(self.name, data, seed)
            if new != data and len(new) <= most:
                return new
        return bytes(atheris.Mutate(data, most))


def main(folder: str, name: str, runs: str, seed: str) -> None:
    """Fuzz; the fuzzer ends the process."""
    at = Path(folder)
    corpus = at / "corpus"
    corpus.mkdir(parents=True, exist_ok=True)
    for number, data in enumerate(requests.seeds(name)):
        (corpus / str(number)).write_bytes(data)
    loop = Loop(at, name)
    options = [f"-runs={runs}", f"-seed={seed}", f"-max_len={LONGEST}", "-timeout=3600", "-rss_limit_mb=4096",
               f"-artifact_prefix={at}/", "-len_control=0", "-reload=0"]  # fmt: skip
    atheris.Setup([sys.argv[0], *options, str(corpus)], loop.one, custom_mutator=loop.mutate)
    atheris.Fuzz()


if __name__ == "__main__":
    main(*sys.argv[1:])
