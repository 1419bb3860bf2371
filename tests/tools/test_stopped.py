"""A build that is killed or runs out of disk: the last good handbook stands, and the next build is a clean one."""

from __future__ import annotations

import argparse
import random
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tools.commands import new

ROOT = Path(__file__).parents[2]
GOOD = "<p>the last good handbook</p>"
# Reading and writing the pages; finishing; putting in place: the last two work on what readers get.
STEPS, KILLED = 5, (2, 4, 5)
SMALL = 200_000  # bytes; less than the largest file of a handbook
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def ours(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new operator's folder; what one build works out the next one finds there."""
    made = tmp_path_factory.mktemp("stopped") / "ours"
    new.main(argparse.Namespace(folder=made, name="Ours", rules="us", units=None))
    return made


@pytest.fixture
def folder(ours: Path) -> Path:
    """The same with a handbook that was good once, and is of no sources that are known."""
    shutil.rmtree(ours / "site", ignore_errors=True)
    (ours / "site").mkdir()
    (ours / "site" / "index.html").write_text(GOOD, "utf-8")
    (ours / ".handbook" / "built-from").unlink(missing_ok=True)
    return ours


def build(folder: Path) -> subprocess.Popen[str]:
    command = [sys.executable, str(ROOT / "tools" / "handbook.py"), "build", str(folder)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)


def stands(folder: Path) -> bool:
    return (folder / "site" / "index.html").read_text("utf-8") == GOOD


def test_a_kill_leaves_the_last_good_handbook(folder: Path) -> None:
    """At some line of a step; then one build runs to its end, beside another that waits for it."""
    choose = random.Random(4)
    for step in KILLED:
        running = build(folder)
        assert running.stdout
        more = choose.randrange(2)
        for line in running.stdout:
            if line.startswith(f"[{step}/"):
                more += 1
            elif more:
                more -= 1
            if more == 1:
                break
        running.kill()
        running.wait()
        running.stdout.close()
        if step < STEPS:
            assert stands(folder), step
    both = [build(folder), build(folder)]
    told = [each.communicate()[0] for each in both]
    assert [each.returncode for each in both] == [0, 0], told
    assert sum("Another build is running" in each for each in told) == 1, told
    assert not stands(folder)
    assert (folder / "site" / "sw.js").is_file()
    assert not (folder / ".handbook" / "staging").exists()


def test_a_full_disk_is_told_and_leaves_the_last_good_handbook(folder: Path) -> None:
    """In plain words, without a traceback."""
    running = build(folder)
    resource.prlimit(running.pid, resource.RLIMIT_FSIZE, (SMALL, SMALL))
    told = running.communicate()[0]
    assert running.returncode == 1
    assert "no room left" in told
    assert "Traceback" not in told
    assert stands(folder)
