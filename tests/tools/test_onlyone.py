"""Folders are put in place whole, and two commands never work on one folder at once."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tools.commands import onlyone

ROOT = Path(__file__).parents[2]


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A site in place, and a new one beside it."""
    for name in ("site", "staging"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "index.html").write_text(name, encoding="utf-8")
    return tmp_path


def shown(place: Path) -> str:
    return (place / "site" / "index.html").read_text(encoding="utf-8")


def put(place: Path) -> None:
    onlyone.put_in_place(place / "staging", place / "site", place / "old")


@pytest.mark.parametrize("in_one_step", [True, False])
def test_the_new_one_stands_and_nothing_is_left_beside(
    place: Path, in_one_step: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whether the system can exchange two names or not."""
    if not in_one_step:
        monkeypatch.setattr(onlyone, "exchanged", lambda first, second: False)
    put(place)
    assert shown(place) == "staging"
    assert [each.name for each in place.iterdir()] == ["site"]


def test_the_first_one_of_all_is_put_in_place_too(place: Path) -> None:
    """No site yet, and one left aside by an old kill is not taken for it."""
    for each in (place / "site").iterdir():
        each.unlink()
    (place / "site").rmdir()
    put(place)
    assert shown(place) == "staging"


class Killed(BaseException):
    """Stands for the moment at which the process ends."""


@pytest.mark.parametrize("moment", range(1, 3))
def test_a_kill_at_any_rename_leaves_a_whole_site(
    place: Path, moment: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before the first rename, and between the two: after recovery there is a site, the old or the new."""
    monkeypatch.setattr(onlyone, "exchanged", lambda first, second: False)
    real, calls = Path.rename, []

    def rename(self: Path, target: Path) -> Path:
        calls.append(target)
        if len(calls) == moment:
            raise Killed
        return real(self, target)

    with monkeypatch.context() as patched:
        patched.setattr(Path, "rename", rename)
        with pytest.raises(Killed):
            put(place)
    assert onlyone.recover(place / "site", place / "old") is (moment == 2)
    assert shown(place) == "site"
    put(place)
    assert shown(place) == "staging"


def test_nothing_is_recovered_over_a_site_that_stands(place: Path) -> None:
    """An old folder beside a good site stays what it is: rubbish."""
    (place / "old").mkdir()
    assert not onlyone.recover(place / "site", place / "old")
    assert shown(place) == "site"


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux exchanges names")
def test_names_are_exchanged_in_one_step(place: Path) -> None:
    """Both folders are there before and after."""
    assert onlyone.exchanged(place / "staging", place / "site")
    assert shown(place) == "staging"
    assert (place / "staging" / "index.html").read_text(encoding="utf-8") == "site"
    assert not onlyone.exchanged(place / "staging", place / "nowhere")


def test_a_second_command_waits_until_the_first_has_ended(tmp_path: Path) -> None:
    """It says that it waits, and its work comes after the first one's."""
    code = (
        "import sys; sys.path.insert(0, sys.argv[1])\n"
        "from pathlib import Path\nfrom tools.commands.onlyone import alone\n"
        "with alone(Path(sys.argv[2]), 'waiting'):\n    print('working', flush=True)\n"
    )
    with onlyone.alone(tmp_path, "waiting"):
        second = subprocess.Popen(
            [sys.executable, "-c", code, str(ROOT), str(tmp_path)], stdout=subprocess.PIPE, text=True
        )
        assert second.stdout is not None
        assert second.stdout.readline() == "waiting\n"
        assert second.poll() is None
    assert second.communicate()[0] == "working\n"
