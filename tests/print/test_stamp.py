"""The state of the data in the foot of each sheet: put into a booklet that is set already, as if it had been set with it."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tools.print import booklets, stamp
from tools.print.kept import Kept

MARK = "1f0c7ea2"
TOLD = {"operator": "Name", "edition": "2 (a)", "paper": "a4", "part": "", "title": "T", "sheets": [[], []]}


def set_with(mark: str, edition: str = "0123456789abcdef (\\)") -> bytes:
    return booklets.pdf("drills.typ", {**TOLD, "edition": edition, "data": mark}, [])


def texts(booklet: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(booklet)).pages]


@pytest.mark.parametrize("mark", [MARK, "00000000", "ffffffff", "12345678"])
def test_each_sheet_says_what_it_would_if_it_were_set_with_the_mark(mark: str) -> None:
    """Nothing else of it changes, and the same mark gives the same bytes."""
    blank = set_with(stamp.BLANK)
    made = stamp.stamped(blank, mark)
    assert made is not None
    assert texts(made) == texts(set_with(mark))
    assert len(texts(made)) == 2
    assert all(f"data {mark}" in text for text in texts(made))
    assert stamp.stamped(blank, mark) == made


def test_a_letter_that_the_typeface_lacks_is_told() -> None:
    assert stamp.stamped(set_with(stamp.BLANK), "abcdefgZ") is None


def test_a_sheet_without_a_blank_mark_is_no_booklet_of_ours() -> None:
    with pytest.raises(ValueError, match="no blank mark"):
        stamp.stamped(set_with(MARK), MARK)


def test_another_state_of_the_data_sets_no_booklet_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """But for a letter that its typeface lacks; what the booklet says else sets it anew."""
    whole, seen = booklets.pdf, list[str]()

    def pdf(layout: str, told: Any, *rest: Any) -> bytes:
        seen.append(told["data"])
        return whole(layout, told, *rest)

    monkeypatch.setattr(booklets, "pdf", pdf)
    (tmp_path / "packs").mkdir()

    def put(mark: str, edition: str) -> list[str]:
        told = {**TOLD, "edition": edition}
        shop = booklets.Shop(tmp_path, [], {"edition": edition, "data": mark}, Kept(tmp_path / "kept"), booklets.ENGLISH, lambda: None)
        shop.put("one.pdf", "drills.typ", told, lambda: told)
        return texts((tmp_path / "packs" / "one.pdf").read_bytes())

    for mark in (MARK, "abcdef12", MARK):
        assert all(f"data {mark}" in text for text in put(mark, "0123456789abcdef"))
    assert seen == [stamp.BLANK]
    for _ in range(2):
        assert all("data 97979797" in text for text in put("97979797", "none"))
    assert seen == [stamp.BLANK, stamp.BLANK, "97979797"]
