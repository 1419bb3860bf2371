"""The command `verify`: one changed byte in any file of a copy is found, and what to do is said."""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tools.commands import verify
from tools.post import app, listing, pages

ROOT = Path(__file__).parents[2]
FILES = {"index.html": "Home", app.WORKER: "//", app.WEB_MANIFEST: "{}", "a/b c.html": "<p data-build=0123456789abcdef>", "a/é.txt": "x"}


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A few files with their list."""
    for name, text in FILES.items():
        pages.write(tmp_path / "stick" / name, text)
    listing.write(tmp_path / "stick", "0123456789abcdef")
    return tmp_path / "stick"


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str]) -> Callable[[Path], tuple[int, str]]:
    """What it says of a folder, and the exit code."""

    def asked(folder: Path) -> tuple[int, str]:
        code = verify.main(argparse.Namespace(folder=folder))
        return code, "".join(capsys.readouterr())

    return asked


def turn(path: Path, place: int) -> None:
    """Turn one bit of one byte over."""
    data = bytearray(path.read_bytes())
    data[place] ^= 1
    path.write_bytes(data)


def under(told: str, heading: str) -> list[str]:
    """The names below a heading."""
    lines = told.splitlines()
    start = next(at for at, line in enumerate(lines) if line.startswith(heading)) + 1
    return [line.strip() for line in lines[start : start + 99] if line.startswith("  ")]


def test_a_changed_byte_in_each_kind_of_file_is_found(site: Path, tmp_path: Path, ask: Callable[[Path], tuple[int, str]]) -> None:
    """Of the built handbook; at the beginning, in the middle or at the end, and in no other file."""
    copy = tmp_path / "copy"
    shutil.copytree(site, copy)
    assert ask(copy)[0] == 0
    kinds: dict[str, str] = {}
    for name, path in listing.paths(copy).items():
        if path.stat().st_size:
            kinds.setdefault(f"{name.rpartition('/')[0]} {path.suffix}", name)
    for number, name in enumerate(kinds.values()):
        turn(copy / name, (0, (copy / name).stat().st_size // 2, -1)[number % 3])
    found = listing.compare(copy)
    assert sorted([*found.damaged, *found.other]) == sorted(kinds.values())
    assert {".html", ".js", ".css", ".png", ".pdf", ".txt", ".webmanifest"} <= {Path(name).suffix for name in kinds.values()}
    assert ask(copy)[0] == 1


def test_what_is_cut_short_or_longer_or_gone_or_left_over_is_named(copy: Path, ask: Callable[[Path], tuple[int, str]]) -> None:
    (copy / "index.html").write_text("Hom")
    (copy / app.WORKER).write_text("// ")
    (copy / "a/b c.html").write_text("<p data-build=fedcba9876543210>")
    (copy / "a/é.txt").unlink()
    pages.write(copy / "old" / "page.html", "")
    pages.write(copy / "old" / ".DS_Store", "put there by a system, no harm")
    code, told = ask(copy)
    assert code == 1
    assert told.index("Damaged") < told.index("another build") < told.index("Missing") < told.index("Not of this handbook")
    assert [line[2:] for line in told.splitlines() if line.startswith("  ")] == [
        "index.html", app.WORKER, "a/b c.html", "a/é.txt", "old/page.html"]  # fmt: skip
    assert "copy the whole handbook again" in told


def test_what_is_left_over_alone_harms_nothing(copy: Path, ask: Callable[[Path], tuple[int, str]]) -> None:
    (copy / "old.html").write_text("")
    code, told = ask(copy)
    assert (code, under(told, "Not of this handbook")) == (1, ["old.html"])
    assert "All that was built is there and good" in told


@pytest.mark.parametrize("place", [0, 40, 120, -80, -1])
def test_one_byte_of_the_list_itself_is_no_fault_of_the_files(place: int, copy: Path, ask: Callable[[Path], tuple[int, str]]) -> None:
    turn(copy / listing.NAME, place)
    code, told = ask(copy)
    assert code == 1
    assert f"{listing.NAME} is damaged" in told
    assert "index.html" not in told


def test_a_folder_without_the_list_or_without_a_handbook(copy: Path, tmp_path: Path, ask: Callable[[Path], tuple[int, str]]) -> None:
    (copy / listing.NAME).unlink()
    assert ask(copy)[0] == 1
    for folder in (tmp_path, tmp_path / "nowhere"):
        code, told = ask(folder)
        assert code == 2
        assert "There is no handbook in" in told


def test_an_operator_s_folder_stands_for_its_built_handbook(copy: Path, tmp_path: Path) -> None:
    (tmp_path / "handbook.toml").write_text("")
    copy.rename(tmp_path / "site")
    assert verify.built(tmp_path) == tmp_path / "site"


def test_it_runs_on_python_alone(copy: Path) -> None:
    """Without any package, on a screen that knows no letters but ASCII, and on a copy that cannot be written."""
    (copy / "a/é.txt").unlink()
    for path in (copy, copy / "a"):
        path.chmod(0o500)
    command = [sys.executable, "-S", "-s", str(ROOT / "tools" / "handbook.py"), "verify", str(copy)]
    answer = subprocess.run(command, capture_output=True, text=True, check=False, env={"PYTHONIOENCODING": "ascii"})
    assert answer.returncode == 1, answer.stderr
    assert under(answer.stdout, "Missing (1):") == ["a/?.txt"]
    assert "Traceback" not in answer.stderr
