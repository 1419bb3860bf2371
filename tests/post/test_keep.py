"""Finished pages kept: the same bytes, finished again wherever anything differs, and no fault is kept."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from tools import post
from tools.material import scripts
from tools.post import keep as kept
from tools.post.keep import Finished, Keep
from tools.problems import Problems

OURS = post.Ours(scripts.inline("http://localhost:8000/"))
PAGE = "<html><head><title>T</title></head><body><p>text</p><a href='other.html'>o</a></body></html>"


class Finisher:
    """Counts how many pages it finished."""

    def __init__(self, faults: list[tuple[str, str, str]] | None = None) -> None:
        self.count = 0
        self.faults = faults or []

    def __call__(self, text: str) -> Finished:
        self.count += 1
        return Finished(text.upper(), ["other.html"], self.faults)


def test_a_page_is_finished_once(tmp_path: Path) -> None:
    work = Finisher()
    for _ in range(2):
        assert Keep(tmp_path).page("text", "", work) == Finished("TEXT", ["other.html"])
    assert work.count == 1


@pytest.mark.parametrize(("text", "how"), [("other text", "../ #fff"), ("text", "#fff"), ("text", "../ #000")])
def test_another_text_or_way_is_finished_anew(text: str, how: str, tmp_path: Path) -> None:
    work = Finisher()
    Keep(tmp_path).page("text", "../ #fff", work)
    Keep(tmp_path).page(text, how, work)
    assert work.count == 2


def test_other_code_finishes_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    work = Finisher()
    Keep(tmp_path / "kept").page("text", "", work)
    shutil.copytree(kept.HERE, tmp_path / "post")
    with (tmp_path / "post" / "lean.py").open("a") as file:
        file.write("# another line\n")
    monkeypatch.setattr(kept, "HERE", tmp_path / "post")
    Keep(tmp_path / "kept").page("text", "", work)
    assert work.count == 2


def test_a_page_with_a_fault_is_never_kept(tmp_path: Path) -> None:
    """It would be in the handbook the next time."""
    work = Finisher([("<p>", "Refused.", "Mend it.")])
    for number in (1, 2):
        assert Keep(tmp_path).page("text", "", work).faults
        assert work.count == number


def test_a_damaged_page_is_finished_anew_and_an_unused_one_dropped(tmp_path: Path) -> None:
    work = Finisher()
    Keep(tmp_path).page("one", "", work)
    [entry] = tmp_path.iterdir()
    entry.write_bytes(entry.read_bytes()[:-1] + b"?")
    again = Keep(tmp_path)
    assert again.page("one", "", work).text == "ONE"
    assert work.count == 2
    Keep(tmp_path).page("two", "", work)
    again.forget_unused()
    assert list(tmp_path.iterdir()) == [entry]


def test_the_demonstration_s_pages_are_the_same_kept_and_fresh(site: Path, tmp_path: Path) -> None:
    """Raw pages stand in for the generator's: what is finished already is finished once more."""
    names = ("sites/ferry-pier.html", "calculators/plan.html", "procedures/visit.html", "404.html")
    made: dict[str, dict[str, Any]] = {}
    for build, folder in (("plain", None), ("first", tmp_path / "kept"), ("second", tmp_path / "kept")):
        there = tmp_path / build
        for name in names:
            (there / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(site / name, there / name)
        found = post.finish_pages(there, "#0b5c6b", OURS, post.Alike(), Keep(folder))
        made[build] = {name: ((there / name).read_bytes(), found[name]) for name in names}
    assert made["plain"] == made["first"] == made["second"]
    assert len(list((tmp_path / "kept").iterdir())) == len(names)


def test_a_fault_is_told_at_every_build(tmp_path: Path) -> None:
    """A link that leads nowhere, also where the page itself was kept."""
    for _ in range(2):
        folder = tmp_path / "site"
        folder.mkdir(exist_ok=True)
        (folder / "a.html").write_text(PAGE, "utf-8")
        found = post.finish_pages(folder, "#0b5c6b", OURS, post.Alike(), Keep(tmp_path / "kept"))
        told = post._faults(folder, "a.html", found["a.html"])
        assert [each.what for each in told] == ["other.html is not in the handbook."]
        (folder / "other.html").write_text("", "utf-8")
        assert post._faults(folder, "a.html", found["a.html"]) == []
        (folder / "other.html").unlink()
        assert Problems(told).found == told
