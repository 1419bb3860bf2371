"""The README's part “Make it your own”, followed word for word from a clone; only the folder is another one."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOLDER = "../our-handbook"


def commands() -> list[str]:
    """Every command of the part that stands before the one about the package: in blocks, and in the text."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    part = re.search(r"^## Make it your own\n(.*?)^### With Python alone", readme, re.MULTILINE | re.DOTALL)
    assert part
    found = re.findall(r"^python3 .*$|(?<=`)python3 [^`]+(?=`)", part[1], re.MULTILINE)
    # What stands in the text as a piece of a command could not be followed.
    assert len(found) == len(re.findall(r"handbook\.py", part[1]))
    return found


def test_all_four_are_named() -> None:
    """In the order in which they are needed; `own` comes last."""
    assert [shlex.split(line, comments=True)[2] for line in commands()] == ["new", "check", "build", "own"]


@pytest.mark.slow
def test_they_make_a_handbook(tmp_path: Path) -> None:
    """Each does what the README says of it."""
    ours = tmp_path / "our handbook"
    said = {}
    for line in commands():
        assert FOLDER in line
        # The README is followed in an ordinary terminal, outside the environment of the checks.
        environ = {name: value for name, value in os.environ.items() if not name.startswith(("VIRTUAL_ENV", "PYTHON"))}
        answer = subprocess.run(
            ["/bin/sh", "-c", line.replace(FOLDER, shlex.quote(str(ours)))], cwd=ROOT, env=environ,
            stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert answer.returncode == 0, answer.stdout + answer.stderr
        said[shlex.split(line, comments=True)[2]] = answer.stdout
    assert "Nothing is wrong" in said["check"]
    assert "The handbook is ready. Open " in said["build"]
    assert (ours / "site" / "index.html").is_file()
    assert (ours / "pages" / "procedures" / "clean.md").read_text("utf-8").startswith("---\nreplaces: ")
