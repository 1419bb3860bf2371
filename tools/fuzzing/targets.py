"""What is fuzzed beside the JSON border: pages of Markdown, tables, workbooks, logs.

A target has ``seeds`` (good inputs), ``fault`` (what is wrong with how an input was taken, None where it was taken or
refused in words) and ``changed`` (another input near one).
"""

from __future__ import annotations

import functools
import io
import json
import random
import shutil
import tempfile
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import calculators
from tools.commands.house import ROOT

from . import judge

# What is put into a text: signs that mean something to one of the readers.
PIECES = (
    "", " ", "\n", "\r\n", "\t", "\0", ",", ";", '"', '""', "'", "=", "+", "-", "@", "#", "|", ":::", "::: steps\n", "\n:::\n",
    "{{", "}}", "{{rule space.rear_gap}}", "{{card power_switch}}", "::: only cold\n", "::: calculator clearance\n",
    "::: fault dead\n", "machine: first\n", "[a](b.md)", "<b>", "</script>", "<!--", "`", "```", "---\n", "1. ", "* ", "Yes:",
    "No: **Stop**", "41", "-0", "1e9", "1,5", "1.5", "3 1/2 in", "6'2\"", "12:61", "24:00", "2026-02-30", "03/11/2026", "#N/A",
    "#REF!", "NaN", "inf", "½", "é", "\u2028", "\ufeff", "\u202e", "😀", "°F", "°C", "9" * 40, "a" * 300,
)  # fmt: skip
ROWS = 3  # of each table, so that a folder is read in a moment


@dataclass(frozen=True)
class Target:
    """One of them."""

    seeds: Callable[[], list[bytes]]
    fault: Callable[[bytes], str | None]
    changed: Callable[[bytes, int], bytes]


def of(name: str) -> Target:
    """The target of a name."""
    return TARGETS[name]


def pieced(data: bytes, seed: int) -> bytes:
    """A text with a piece put in, or a part taken out, said twice or moved."""
    dice = random.Random(seed)  # noqa: S311 - no secret
    text = data.decode("utf-8", "surrogateescape")
    for _ in range(1 + int(dice.random() * 3)):
        one, other = sorted(int(dice.random() * (len(text) + 1)) for _ in range(2))
        piece = PIECES[int(dice.random() * len(PIECES))]
        part = text[one : min(other, one + 200)]
        text = (
            text[:one] + piece + text[one:], text[:one] + text[one + len(part) :], text[:one] + part + text[one:],
            text[:one] + piece + text[one + len(part) :],
        )[int(dice.random() * 4)]  # fmt: skip
    return text.encode("utf-8", "surrogateescape")


def _raised(act: Callable[[], object]) -> str | None:
    """What an act raised that no reader is to see; mistakes told in words are none."""
    from tools.problems import Problems

    try:
        act()
    except Problems:
        return None
    except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
        return f"{type(error).__name__}: {error}"
    return None


# -- pages of Markdown ------------------------------------------------------------------


def _pages() -> list[bytes]:
    return [path.read_bytes() for path in sorted((ROOT / "docs" / "procedures").glob("*.md"))]


@functools.cache
def _asked() -> tuple[object, object]:
    from markdown import Markdown

    from tools.blocks import HandbookBlocks
    from tools.book import book
    from tools.pages import proof

    read = book.read(ROOT / "docs" / "data", ROOT / "docs")
    asked = proof.context(read)
    return asked, Markdown(extensions=[*proof.EXTENSIONS, HandbookBlocks(asked)])


def _drawn(data: bytes) -> str | None:
    from tools.pages import procedures

    asked, reader = _asked()
    asked.page, asked.first, asked.problems = "procedures/tried.md", 1, []  # type: ignore[attr-defined]
    text = data.decode("utf-8", "replace")

    def draw() -> None:
        for line, what, mend in procedures.check(text, 1):
            asked.report(line, what, mend)  # type: ignore[attr-defined]
        reader.reset().convert(text)  # type: ignore[attr-defined]

    return _raised(draw)


# -- tables and workbooks ---------------------------------------------------------------


@functools.cache
def _folder() -> Path:
    """The demonstration's folder with a few rows of each table, thrown away at the end."""
    folder = Path(tempfile.mkdtemp(prefix="handbook-fuzz-")) / "data"
    shutil.copytree(ROOT / "docs" / "data", folder)
    for path in (folder / "tables").glob("*.csv"):
        path.write_text("\n".join(path.read_text(encoding="utf-8").splitlines()[: ROWS + 1]) + "\n", encoding="utf-8")
    return folder


def _tables() -> list[bytes]:
    """Each table, its name in the first line."""
    return [f"{path.stem}\n".encode() + path.read_bytes() for path in sorted((_folder() / "tables").glob("*.csv"))]


def _table(data: bytes) -> str | None:
    name, _, body = data.partition(b"\n")
    path = next((each for each in (_folder() / "tables").glob("*.csv") if each.stem.encode() == name), None)
    return _read_with(path, body) if path else None


def _other_table(data: bytes, seed: int) -> bytes:
    name, _, body = data.partition(b"\n")
    return name + b"\n" + pieced(body, seed)


def _read_with(path: Path, body: bytes) -> str | None:
    """Read the whole folder with one file as it is given, and put the file back."""
    from tools.book import data

    before = path.read_bytes() if path.is_file() else None
    path.write_bytes(body)
    try:
        return _raised(lambda: data.load(_folder()))
    finally:
        path.unlink() if before is None else path.write_bytes(before)


def _workbooks() -> list[bytes]:
    return [path.read_bytes() for path in sorted((ROOT / "tests" / "cases" / "spreadsheets").rglob("*.xlsx"))]


def _workbook(data: bytes) -> str | None:
    path = _folder() / "tables" / "routes.xlsx"
    plain = path.with_suffix(".csv")
    plain.rename(aside := plain.with_suffix(".aside"))
    try:
        return _read_with(path, data)
    finally:
        aside.rename(plain)


def _repacked(data: bytes, seed: int) -> bytes:
    """A workbook one of whose parts is another text: the zip around it stays whole."""
    dice = random.Random(seed)  # noqa: S311 - no secret
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = {name: archive.read(name) for name in archive.namelist()}
    except Exception:  # noqa: BLE001 - damaged on purpose, it fails in any line of the library
        return pieced(data, seed)
    if not parts:
        return data
    name = sorted(parts)[int(dice.random() * len(parts))]
    parts[name] = pieced(parts[name], seed)
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for each, body in parts.items():
            archive.writestr(zipfile.ZipInfo(each), body)
    return made.getvalue()


# -- logs -------------------------------------------------------------------------------


def _logs() -> list[bytes]:
    found = [str(each) for key in ("us", "uk") for each in calculators.get("cold").example_for(key, "us").values()
             if isinstance(each, str) and "\n" in each]  # fmt: skip
    return [text.encode() for text in found] or [b"2026-11-28 08:55, 45\n2026-11-28 09:00, 41\n"]


def _log(data: bytes) -> str | None:
    """A log as a reader opens it, in the example's own form."""
    inputs = calculators.get("cold").example_for("us", "us")
    text = data.decode("utf-8", "replace")
    return judge.fault("cold", json.dumps({"units": "us", "rules": "us", "inputs": {**inputs, LOG: text}}))


LOG = next(each.key for each in calculators.get("cold").inputs.fields() if type(each).__name__ == "Log")

TARGETS = {
    "blocks": Target(_pages, _drawn, pieced),
    "tables": Target(_tables, _table, _other_table),
    "workbooks": Target(_workbooks, _workbook, _repacked),
    "logs": Target(_logs, _log, pieced),
}
