"""An operator's own pages: over ours, beside ours, and ours left out."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools.book import folder, written
from tools.book.book import Book
from tools.problems import Problem

OURS = "---\ntitle: Clean\nmenu: Do the job\norder: 3\n---\n# Clean\n"


@pytest.fixture
def docs(tmp_path: Path) -> Path:
    return lay(tmp_path / "docs", {"procedures/clean.md": OURS, "procedures/riser.md": OURS, "safety/tipping.md": OURS,
                                   "index.md": OURS})  # fmt: skip


def lay(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    return folder


def read(tmp_path: Path, docs: Path, files: dict[str, str], *left_out: str) -> tuple[written.Written, list[Problem]]:
    folder = lay(tmp_path / "ours", {f"pages/{name}": text for name, text in files.items()})
    problems: list[Problem] = []
    return written.read(folder, docs, left_out, problems), problems


def test_own_pages_stand_over_ours_and_beside_them(tmp_path: Path, docs: Path) -> None:
    """A page of our name is theirs now; one of another name is added; the rest is ours."""
    mark = written.mark(docs / "procedures" / "clean.md")
    found, problems = read(tmp_path, docs, {
        "procedures/clean.md": f'---\ntitle: Ours\nreplaces: "{mark}"\n---\n', "notes/van.md": "---\ntitle: Van\nmenu: Look up\n---\n",
    }, "procedures/riser")  # fmt: skip
    assert problems == []
    assert found.own == {"procedures/clean.md", "notes/van.md"}
    assert found.left_out == {"procedures/riser.md"}
    assert set(found.pages) == {"index.md", "safety/tipping.md", "procedures/clean.md", "notes/van.md"}
    assert found.pages["procedures/clean.md"].is_relative_to(tmp_path / "ours")
    assert found.pages["safety/tipping.md"].is_relative_to(docs)
    assert found.notes == ()


def test_pictures_of_the_folder_come_into_the_handbook(tmp_path: Path, docs: Path) -> None:
    """Also those in folders of theirs, each in its place; what a system leaves there unseen is none."""
    files = {"pictures/b.png": "b", "pictures/doors/a.png": "a", "pictures/.thumbs": "x", "drawings/c.svg": "c"}
    book = Book(docs, None, (), lay(tmp_path / "ours", files))  # type: ignore[arg-type] - no data is looked at
    assert list(folder.pictures(book)) == ["pictures/b.png", "pictures/doors/a.png"]
    assert list(folder.pictures(Book(docs, None, ()))) == []  # type: ignore[arg-type]


def test_a_page_of_ours_that_changed_since_is_told_and_stops_nothing(tmp_path: Path, docs: Path) -> None:
    """By the mark that the replacing page bears, with the new one; line ends do not count."""
    mark = written.mark(docs / "procedures" / "clean.md")
    page = {"procedures/clean.md": f'---\ntitle: Ours\nreplaces: "{mark}"\n---\n'}
    (docs / "procedures" / "clean.md").write_bytes(OURS.replace("\n", "\r\n").encode())
    assert read(tmp_path, docs, page)[0].notes == ()
    (docs / "procedures" / "clean.md").write_text(f"{OURS}\nAnother step.\n", "utf-8")
    found, problems = read(tmp_path, docs, page)
    (note,) = found.notes
    assert problems == []
    assert "has changed since" in note
    assert written.mark(docs / "procedures" / "clean.md") in note
    (note,) = read(tmp_path, docs, {"procedures/clean.md": "---\ntitle: Ours\n---\n"})[0].notes
    assert "may change later" in note


WRONG = {
    "no menu": ("notes/van.md", "---\ntitle: Van\n---\n", "No menu leads", "menu: Look up"),
    "no title": ("notes/van.md", "---\nmenu: Look up\n---\n", "no title", "title:"),
    "no front": ("notes/van.md", "# Van\n", "no title", "title:"),
    "broken": ("notes/van.md", "---\ntitle: [Van\nmenu: Look up\n---\n", "line 3", "---"),
    "a list": ("notes/van.md", "---\n- title\n---\n", "holds no entries", "---"),
    "said is a text": ("notes/van.md", "---\ntitle: Van\nmenu: Look up\nsaid: truck\n---\n", "no list of words", "too hot"),
    "said holds a number": ("notes/van.md", "---\ntitle: Van\nmenu: Look up\nsaid: [truck, 911]\n---\n", "no list of words", "quotes"),
    "said holds a blank": ("notes/van.md", "---\ntitle: Van\nmenu: Look up\nsaid: [\"\"]\n---\n", "no list of words", "take the line out"),
    "name": ("notes/My Van.md", "---\ntitle: Van\nmenu: Look up\n---\n", "cannot be used in a link", "small letters"),
}  # fmt: skip


@pytest.mark.parametrize("case", WRONG.values(), ids=WRONG.keys())
def test_a_mistake_is_told_with_its_mend(case: tuple[str, ...], tmp_path: Path, docs: Path) -> None:
    name, text, what, mend = case
    found = read(tmp_path, docs, {name: text})[1]
    assert found[0].file == f"pages/{name}"
    assert what in found[0].what
    assert mend in found[0].mend


def test_bytes_that_are_no_text_are_told(tmp_path: Path, docs: Path) -> None:
    """No traceback where a page was saved by another rule."""
    folder = tmp_path / "ours" / "pages"
    folder.mkdir(parents=True)
    (folder / "van.md").write_bytes(b"---\ntitle: V\xe4n\n---\n")
    assert "not saved as UTF-8" in read(tmp_path, docs, {})[1][0].what


@pytest.mark.parametrize(("name", "what"), [("safety/tipping", "cannot be left out"), ("index.md", "cannot be left out"),
                                            ("procedures/rizer", "no page"), ("procedures/own", "page of your own")])  # fmt: skip
def test_what_keeps_people_safe_is_not_left_out(name: str, what: str, tmp_path: Path, docs: Path) -> None:
    """Nor what is not there, nor what is their own; each with its mend."""
    page = {"procedures/own.md": "---\ntitle: Own\nmenu: Look up\n---\n"}
    found, (problem,) = read(tmp_path, docs, page, name)
    assert (problem.file, problem.place) == ("handbook.toml", "leave_out")
    assert what in problem.what
    assert problem.mend
    assert not found.left_out


def test_a_page_s_mark_is_eight_digits_and_another_one_for_another_text(docs: Path) -> None:
    """Operators wrote it down in their pages: it stays as it is, whatever the ends of lines are."""
    page = docs / "procedures" / "clean.md"
    page.write_bytes(b"# Clean\n")
    mark = written.mark(page)
    page.write_bytes(b"# Clean\r\n")
    assert written.mark(page) == mark == "5465d1a3"
    page.write_bytes(b"# Clean it\n")
    assert written.mark(page) != mark
