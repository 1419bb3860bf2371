"""The builder that goes on, and `serve`, which asks it: what is shown when, and what a builder may remember."""

from __future__ import annotations

import argparse
import dataclasses
import re
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from tools import pages
from tools.book import book
from tools.book.packs import Pack
from tools.commands import again, build, new, serve
from tools.commands.place import Place
from tools.commands.progress import Trouble
from tools.memory import Memory
from tools.print import booklets

DOCS = Path(__file__).parents[2] / "docs"
# In place of the real builder: it tells what it was asked, shows a draft and the site, ends as outdated when told to.
STAND_IN = r"""
import sys, pathlib
note = pathlib.Path(sys.argv[1])
for line in sys.stdin:
    if (note / "outdated").exists():
        (note / "outdated").unlink()
        print("\x1eoutdated ", flush=True)
        break
    print("building")
    print("\x1eshow", note / "draft", flush=True)
    print("\x1eshow", note / "site", flush=True)
    print("\x1edone ", flush=True)
"""


@pytest.fixture
def here(tmp_path: Path) -> Place:
    return Place(tmp_path / "ours", tmp_path / "site", tmp_path / "work")


def signs(told: str) -> list[str]:
    """What a builder told whoever asked it."""
    return re.findall(rf"^{again.SIGN}(\w+)", told, re.MULTILINE)


def run(here: Place, wishes: int, monkeypatch: pytest.MonkeyPatch, work: Callable[..., int]) -> None:
    """The builder's loop over so many wishes, each met by ``work``; the next is told when the last is met."""
    met = threading.Semaphore(1)

    class Lines:
        left = wishes

        def __iter__(self) -> Lines:
            return self

        def __next__(self) -> str:
            met.acquire()
            self.left -= 1
            if self.left < 0:
                raise StopIteration
            return "build\n"

    def counted(*args: Any, **given: Any) -> int:
        try:
            return work(*args, **given)
        finally:
            met.release()

    monkeypatch.setattr(sys, "stdin", Lines())
    monkeypatch.setattr(build, "build", counted)
    assert again.main(here) == 0


def test_it_builds_once_for_each_wish_and_remembers(here: Place, monkeypatch: pytest.MonkeyPatch, capsys: Any) -> None:
    """A mistake is told and ends nothing; the site is on show after each."""
    seen = []

    def work(_: Place, *, memory: Memory, **given: Any) -> int:
        seen.append(memory)
        if len(seen) == 2:
            raise Trouble("a cell is empty")
        return 0

    run(here, 3, monkeypatch, work)
    told = capsys.readouterr()
    assert signs(told.out) == ["done", "show", "failed", "show", "done", "show"]
    assert "a cell is empty" in told.err
    assert seen[0] is seen[1] is seen[2]


def test_it_ends_where_its_code_is_another(here: Place, monkeypatch: pytest.MonkeyPatch, capsys: Any) -> None:
    """Before it builds anything with the old one."""
    codes = iter(["old", "old", "new"])
    monkeypatch.setattr(again, "_code", lambda: next(codes))
    run(here, 2, monkeypatch, lambda *_, **__: 0)
    assert signs(capsys.readouterr().out) == ["done", "show", "outdated"]


def test_all_of_the_code_counts(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Calculators, rules, tools, settings and locked packages; not the pages, which a build reads anew."""
    for name in build.SOURCES:
        (tmp_path / name).write_text("", "utf-8")
    monkeypatch.setattr(again, "ROOT", tmp_path)
    before = again._code()
    for name in build.SOURCES:
        (tmp_path / name).write_text("another", "utf-8")
        assert (again._code() == before) is (name == "docs"), name
        (tmp_path / name).write_text("", "utf-8")


def test_pages_are_shown_with_the_last_booklets_and_never_in_the_site(here: Place, monkeypatch: pytest.MonkeyPatch, capsys: Any) -> None:
    """In a folder that is not the one on show; not at all where a booklet is new. What is newer halts the rest."""
    newer = [False]
    draft = again.Draft(here, lambda: newer[0])
    staging = here.work / "staging"
    for folder in (staging, here.site):
        (folder / "packs").mkdir(parents=True)
    (staging / "index.html").write_text("written", "utf-8")
    (here.site / "packs" / "one.pdf").write_bytes(b"last")
    pack = SimpleNamespace(key="one", of="another", forms=("study",), questions=())
    made = SimpleNamespace(packs=[pack], data=None)
    monkeypatch.setattr(booklets.found, "of", lambda _: ())
    monkeypatch.setattr(booklets, "_tell_all_sizes", lambda *_: None)
    shown = []
    for _ in range(2):
        draft.show(made, staging, lambda folder: shown.append((folder, (folder / "packs" / "one.pdf").read_bytes())))  # type: ignore[arg-type]
    assert len({folder for folder, _ in shown}) == 2
    assert {data for _, data in shown} == {b"last"}
    assert not (here.site / "index.html").exists()
    pack.questions = ("a new one",)
    draft.show(made, staging, lambda folder: pytest.fail("a booklet is lacking"))  # type: ignore[arg-type]
    assert capsys.readouterr().out.count("\x1eshow") == 2
    draft.halt()
    newer[0] = True
    with pytest.raises(again.Halted):
        draft.halt()
    draft.clear()
    assert not [folder for folder, _ in shown if folder.exists()]


def test_a_booklet_is_set_where_nobody_halts_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Asked before each that is not kept, and what it raises goes out."""

    def halt() -> None:
        raise again.Halted

    (tmp_path / "packs").mkdir()
    monkeypatch.setattr(booklets, "pdf", lambda *_: b"set")
    shop = booklets.Shop(tmp_path, [], {}, booklets.Kept(), booklets.ENGLISH, halt)
    with pytest.raises(again.Halted):
        shop.put("one.pdf", "answers.typ", "", dict)
    dataclasses.replace(shop, halt=lambda: None).put("one.pdf", "answers.typ", "", dict)
    assert (tmp_path / "packs" / "one.pdf").read_bytes() == b"set"


def test_serve_shows_what_its_builder_says_and_begins_a_fresh_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: Any) -> None:
    """Its words are passed on; an outdated one is followed by another that does the same work."""
    script = tmp_path / "stand_in.py"
    script.write_text(STAND_IN, "utf-8")
    whole, begun = serve.subprocess.Popen, []

    def popen(command: list[str], **given: Any) -> Any:
        begun.append(whole([sys.executable, str(script), str(tmp_path)], **given))
        return begun[-1]

    monkeypatch.setattr(serve.subprocess, "Popen", popen)
    shown: list[Path] = []
    builder = serve.Builder(None, shown.append)
    builder.ask()
    builder.wait()
    assert shown == [tmp_path / "draft", tmp_path / "site"]
    (tmp_path / "outdated").touch()
    builder.ask()
    builder.wait()
    assert (len(begun), len(shown)) == (2, 4)
    begun[1].kill()
    begun[1].wait()
    builder.ask()
    builder.wait()
    assert (len(begun), len(shown)) == (3, 6)
    assert capfd.readouterr().out.count("building") == 3
    begun[2].stdin.close()
    assert begun[2].wait() == 0


def test_pages_are_remembered_as_they_are_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Those of the data alone, and for as long as it is the same; what rests on pages and packs is made anew."""
    def ours(made: book.Book) -> list[pages.Page]:
        return [pages.Page("ours.md", f"{made.build_id} of {made.data.company['name']}", "")]

    monkeypatch.setattr(pages, "KINDS", (pages.rulebook.pages, pages.datafiles.pages, pages.machinecard.pages, pages.learn.pages, ours))
    new.main(argparse.Namespace(folder=tmp_path / "ours", name="Ours", rules="us", units=None))
    memory, folder = Memory(), tmp_path / "ours"
    memory.begin("one")
    read = book.read(folder, DOCS, memory=memory)
    first = pages.made(read, memory)
    assert first == pages.made(read) == pages.made(read, memory)
    kept = [kind for kind in pages.KINDS if memory.get(kind.__module__) is not None]
    assert kept == [pages.rulebook.pages, pages.datafiles.pages, ours]
    fewer = dataclasses.replace(read, packs=(Pack("one", "Another", "", ("safety/tipping",)),))
    assert pages.made(fewer, memory) == pages.made(fewer) != first
    assert book.read(folder, DOCS, memory=memory).data is read.data
    memory.begin("another")
    assert book.read(folder, DOCS, memory=memory).data is not read.data
    assert memory.get("tools.pages.rulebook") is None
