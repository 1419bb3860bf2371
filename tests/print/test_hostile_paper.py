"""Whatever a person typed is printed as that text: the typesetter takes none of it for a sign of its own."""

from __future__ import annotations

import io
import json
import re
from collections import Counter
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.support.hostile import TEXTS
from tools.print import booklets, glyphs

DRAWINGS = Path(__file__).parents[2] / "docs" / "assets" / "drawings"
TOLD = {
    "title": TEXTS[0], "operator": TEXTS[1], "edition": TEXTS[2], "data": "d", "paper": "a4", "summary": TEXTS[3], "places": ["a"],
    "questions": [{"ask": text, "answers": [text, "b"], "letter": "A", "why": text, "page": text} for text in TEXTS],
    "chapters": [{"place": "a", "title": text, "blocks": [{"kind": "p", "text": [each, {"strong": [each]}]} for each in (TEXTS if text == TEXTS[0] else [text])]}
                 for text in TEXTS[:9]],
}  # fmt: skip
DRILL = ("calculator", "subject", "happened", "given", "label", "was", "now", "question", "answer", "decides", "todo")


def letters(text: str) -> Counter[str]:
    """The signs of a text; a text from right to left comes back in the order in which it is drawn."""
    return Counter(re.sub(r"[\s\u200d-\u200f]", "", text))


def printed(made: bytes) -> str:
    return "".join(page.extract_text() for page in PdfReader(io.BytesIO(made)).pages)


def shown(text: str) -> str:
    """A text as paper has it: a box for each letter that no typeface of ours has."""
    return text.replace("👩", glyphs.BOX).replace("🔧", glyphs.BOX)


@pytest.mark.parametrize(("layout", "form"), [("answers.typ", ""), ("house.typ", "study"), ("house.typ", "short")])
def test_a_booklet_prints_every_text_as_it_was_written(layout: str, form: str) -> None:
    chapters = [{**each, "place": f"a{number}"} for number, each in enumerate(TOLD["chapters"])]  # type: ignore[arg-type]
    made = booklets.pdf(layout, {**TOLD, "chapters": chapters, "form": form, "first": 0, "sheets": 0}, (DRAWINGS,))
    said = re.sub(r"\s", "", printed(made))
    facts = PdfReader(io.BytesIO(made)).metadata
    assert facts is not None
    assert facts.author == TEXTS[1]
    assert str(facts.title).startswith(TEXTS[0])
    for text in TEXTS:
        if "\u200f" not in text and not re.search("[\u0600-\u06ff]", text):
            assert re.sub(r"[\s\u200d]", "", shown(text)) in said.replace("\u200d", ""), text
        assert not letters(shown(text)) - letters(said), text


@pytest.mark.parametrize("part", ["", "answers"])
def test_a_drill_sheet_prints_every_text_as_it_was_written(part: str) -> None:
    drills = [{**dict.fromkeys(DRILL, text), "turns": True, "working": [text], "sources": [text]} for text in TEXTS]
    made = booklets.pdf("drills.typ", {**TOLD, "part": part, "sheets": [drills]}, (DRAWINGS,))
    assert not sum((letters(shown(text)) for text in TEXTS), Counter()) - letters(printed(made))


def test_letters_of_no_typeface_become_boxes_and_no_others() -> None:
    """Hebrew, Arabic, Greek and Cyrillic are there; pictures and Chinese are not."""
    assert glyphs.lost({"a": ["שלום عربي Ελ Жд é ﬁ → □", "👩\u200d🔧 日本"]}) == frozenset("👩🔧日本")
    assert glyphs.printable({"a": "日本 é", "日": 1}) == {"a": "□□ é", "□": 1}


def test_another_trouble_of_the_typesetter_is_no_lost_letter(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is told, and not tried for ever."""
    import typst

    def fails(folder: Path, layout: str) -> bytes:
        raise typst.TypstError(json.dumps("the text `\"é\"` is red"))

    monkeypatch.setattr(glyphs, "typeset", fails)
    with pytest.raises(typst.TypstError):
        glyphs._lost.__wrapped__("é")
