"""Runs tests in a copy of the checkout, each job in a process of its own that it forks.

A plain script that imports nothing of ours, so that a copy's own modules are what gets tested:
`python server.py COPY` reads one job a line from standard input as JSON and answers with one line.
What all tests import from elsewhere is imported before the fork, which saves most of a start.

A job is {"do": "record", "file": test file} or {"do": "try", "path", "text", "tests": {test file:
{name: seconds}}}. Time is processor time throughout: a busy machine changes no answer, and a
loop without end is stopped by the system's own limit.
"""

from __future__ import annotations

import compileall
import contextlib
import hashlib
import importlib
import itertools
import json
import os
import resource
import signal
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

HEAVY = ("pytest", "hypothesis", "hypothesis.internal.conjecture.engine", "numpy", "scipy.optimize",
         "scipy.stats", "shapely", "shapely.ops", "bs4", "markdown", "pypdf", "coverage",
         "power_grid_model")  # fmt: skip
# What needs a browser, Node or a built site is no test of a mutant.
FIXTURES = {"site", "chromium", "node", "pyodide_dir", "runtime_cache"}
# Tests that notice most of what changes anything, whatever it is: they are tried before all others.
FIRST = "test_recorded.py"
# A test may take this many times its own time, and this much more, before it counts as endless.
TIMES, MORE = 6, 10
# Seconds, for what waits without working only: to try one fault, and to record a whole file on a busy machine.
WALL, WALL_TO_RECORD = 900, 7200
SECONDS = itertools.count(7)
OPTIONS = ["-x", "-q", "--no-header", "-p", "no:cacheprovider", "-p", "no:xdist", "-o", "timeout=0",
           "-o", "addopts=--import-mode=importlib", "--hypothesis-seed=0"]  # fmt: skip


def main(copy: str) -> None:
    """Answer jobs until there are no more."""
    os.chdir(copy)
    sys.path[0] = copy
    sys.dont_write_bytecode = False
    # Once here, since no child that tries a mutant leaves any.
    compileall.compile_dir(copy, quiet=2)
    for name in HEAVY:
        with contextlib.suppress(ImportError):
            importlib.import_module(name)
    for line in sys.stdin:
        job = json.loads(line)
        answer = record(job["file"]) if job["do"] == "record" else attempt(job)
        print(json.dumps(answer), flush=True)


def attempt(job: dict[str, Any]) -> dict[str, Any]:
    """Put the fault in, run the tests, take it out again."""
    path = Path(job["path"])
    old, times = path.read_bytes(), path.stat()
    try:
        path.write_text(job["text"], encoding="utf-8", newline="")
        # Bytecode is known by second and size: the copy's own must not pass for the mutant's, nor what a process that a test
        # started has left of another mutant of that file.
        os.utime(path, (times.st_atime, times.st_mtime + next(SECONDS)))
        more = job.get("more", MORE)
        return forked(lambda answer: answer.update(code=tested(job["tests"], more)))
    finally:
        path.write_bytes(old)
        os.utime(path, (times.st_atime, times.st_mtime))


def tested(tests: dict[str, dict[str, float]], more: float) -> int:
    """Run the chosen tests in order until one fails; the exit code of pytest."""
    import pytest

    sys.dont_write_bytecode = True
    plain_hypothesis()
    return int(pytest.main([*OPTIONS, *tests], plugins=[Chosen(tests, more)]))


def plain_hypothesis() -> None:
    """No shrinking of a failure, nothing remembered: only whether it fails counts."""
    from hypothesis import HealthCheck, Phase, settings

    settings.register_profile("mutate", phases=[Phase.explicit, Phase.generate], database=None,
                              deadline=None, derandomize=False, print_blob=False,
                              suppress_health_check=list(HealthCheck))  # fmt: skip
    settings.load_profile("mutate")


def forked(work: Any, wall: float = WALL) -> dict[str, Any]:
    """Do a piece of work in a child; what it puts into its answer, or how it ended."""
    with tempfile.TemporaryDirectory() as folder:
        told = Path(folder) / "answer.json"
        child = os.fork()
        if not child:
            begun(Path(folder) / "output.txt")
            answer: dict[str, Any] = {}
            work(answer)
            told.write_text(json.dumps(answer), encoding="utf-8")
            os._exit(0)
        status, used = waited(child, wall)
        answer = json.loads(told.read_text(encoding="utf-8")) if told.exists() else {}
        output = Path(folder) / "output.txt"
        text = output.read_text(encoding="utf-8", errors="replace")[-3000:] if output.exists() else ""
        ended = os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0
        return {"signal": ended, "seconds": used, "output": text, **answer}


def begun(output: Path) -> None:
    """In the child: a group of its own, and its words kept out of ours."""
    os.setsid()
    handle = os.open(output, os.O_WRONLY | os.O_CREAT)
    os.dup2(handle, 1)
    os.dup2(handle, 2)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115 - the child's for good
    sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115


def waited(child: int, wall: float) -> tuple[int, float]:
    """How a child ended, and the processor time it and its children took."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    until = time.monotonic() + wall
    ended, status = os.waitpid(child, os.WNOHANG)
    while not ended and time.monotonic() < until:
        time.sleep(0.02)
        ended, status = os.waitpid(child, os.WNOHANG)
    # What it started and left running goes with it.
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(child, signal.SIGKILL)
    if not ended:
        _, status = os.waitpid(child, 0)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return status, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def name_of(nodeid: str) -> str:
    """A test's function as its file names it, with the calculator it is tried with; whatever its other parameters."""
    function, _, parameters = nodeid.split("::", 1)[1].partition("[")
    tried = next((each for each in parameters.rstrip("]").split("-") if Path("calculators", each, "__init__.py").is_file()), "")
    return f"{function}[{tried}]" if tried else function


def file_of(item: Any) -> str:
    """A test's file."""
    return str(item.nodeid).split("::", 1)[0]


def goes_first(file: str) -> bool:
    """Whether its tests go before faster ones."""
    return file.endswith(FIRST)


class Chosen:
    """Keeps the chosen tests in order, and gives each a limit of processor time."""

    def __init__(self, tests: dict[str, dict[str, float]], more: float) -> None:
        self.tests = tests
        self.more = more

    def seconds(self, item: Any) -> float | None:
        """What the test took with that calculator, None where it is not chosen."""
        return self.tests.get(file_of(item), {}).get(name_of(str(item.nodeid)))

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        """Sort and choose."""
        items[:] = sorted((item for item in items if self.seconds(item) is not None),
                          key=lambda item: self.seconds(item) or 0.0)  # fmt: skip

    def pytest_runtest_setup(self, item: Any) -> None:
        """Set the limit anew: what is left of the last test's is not this one's."""
        allowed = TIMES * (self.seconds(item) or 0.0) + self.more
        _, hard = resource.getrlimit(resource.RLIMIT_CPU)
        resource.setrlimit(resource.RLIMIT_CPU, (int(time.process_time() + allowed) + 1, hard))


# -- recording --------------------------------------------------------------------------


def record(file: str) -> dict[str, Any]:
    """Which test of a file comes by which line, reads which figure, and how long it takes."""
    return forked(lambda answer: recorded(file, answer), WALL_TO_RECORD)


def recorded(file: str, answer: dict[str, Any]) -> None:
    """In the child: run the file's tests under coverage, each under its own name."""
    import coverage
    import pytest

    plain_hypothesis()
    seen = coverage.Coverage(data_file=None, config_file=False, include=["calculators/*", "tools/*"])
    watch = Watch(seen)
    seen.start()
    with watch.figures():
        answer["code"] = int(pytest.main([*OPTIONS[1:], "--continue-on-collection-errors", file],
                                         plugins=[watch]))  # fmt: skip
    seen.stop()
    data = seen.get_data()
    lines: dict[str, dict[str, list[int]]] = {}
    for path in data.measured_files():
        by_test: dict[str, list[int]] = defaultdict(list)
        for line, contexts in data.contexts_by_lineno(path).items():
            for context in contexts:
                by_test[context].append(line)
        lines[os.path.relpath(path)] = dict(by_test)
    answer.update(tests=dict(watch.seconds), failed=sorted(watch.failed), lines=lines,
                  keys={key: sorted(tests) for key, tests in watch.keys.items()},
                  digest=digest(file), sources={path: digest(path) for path in lines})  # fmt: skip


def digest(path: str) -> str:
    """The state of a file of the copy, which the checkout may have left since."""
    return hashlib.sha256(Path(path).read_bytes()).hexdigest()


class Watch:
    """Names the test that runs to the coverage, and notes its time and what figures it reads."""

    def __init__(self, seen: Any) -> None:
        self.seen = seen
        self.name = ""
        self.seconds: dict[str, float] = defaultdict(float)
        self.failed: set[str] = set()
        self.keys: dict[str, set[str]] = defaultdict(set)

    @contextlib.contextmanager
    def figures(self) -> Iterator[None]:
        """Note every figure that is read by its key; reading all of them counts as all of them."""
        rules: Any = importlib.import_module("calculators.core.rules")
        read, watch = rules.Figures.__getitem__, self

        def noting(figures: Any, key: str) -> Any:
            watch.keys[f"{figures._name}/{key}"].add(watch.name)  # noqa: SLF001 - looked at, not used
            return read(figures, key)

        rules.Figures.__getitem__ = noting
        yield

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        """Leave out what no mutant can be tried with."""
        items[:] = [item for item in items if not FIXTURES & set(getattr(item, "fixturenames", ()))]

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        """A test begins."""
        self.name = name_of(nodeid)
        self.seen.switch_context(self.name)
        self.begun = os.times()

    def pytest_runtest_logreport(self, report: Any) -> None:
        """A part of a test failed."""
        if report.failed:
            self.failed.add(self.name)

    def pytest_runtest_logfinish(self) -> None:
        """A test ended."""
        now, begun = os.times(), self.begun
        self.seconds[self.name] += sum(now[:4]) - sum(begun[:4])
        self.name = ""
        self.seen.switch_context("")


if __name__ == "__main__":
    main(sys.argv[1])
