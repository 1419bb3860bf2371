"""Whose work a built folder contains: every file of it has a notice, and every notice is true."""

from __future__ import annotations

import base64
import gzip
import importlib.metadata
import json
import re
import zipfile
from collections.abc import Iterator
from fnmatch import fnmatchcase
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

import font_source_sans_pro
import material
import pikepdf
import pytest

from tools.licenses import FOLDER, Notice, notices

ROOT = Path(__file__).parents[2]
THEME = Path(material.__file__).parent / "templates"
NOTICES = {each.key: each for each in notices()}
# Licenses that let an operator use, print and hand on what is made, without a fee and without opening their own.
ALLOWED = {
    "0BSD", "Apache-2.0", "Apache-2.0 WITH LLVM-exception", "BSD-2-Clause", "BSD-3-Clause", "CC-BY-4.0", "HPND",
    "LicenseRef-Public-Domain", "MIT", "MIT-CMU", "MPL-2.0", "NCSA", "OFL-1.1", "PSF-2.0", "W3C-20150513", "Zlib",
    "blessing", "bzip2-1.0.6",
}  # fmt: skip
# What a package says of its license where it gives no SPDX expression.
SAID = {
    "MIT License": "MIT", "BSD License": "BSD-3-Clause", "Apache Software License": "Apache-2.0",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0", "SIL Open Font License 1.1 (OFL-1.1)": "OFL-1.1",
}  # fmt: skip
# The packages that the theme's scripts and style sheet are made of, by their notices.
BUNDLED = {"material-design-color": "material-colors"}
FAMILIES = {"material": "icons-material", "octicons": "icons-octicons", "fontawesome": "icons-fontawesome"}


def parts(expression: str) -> set[str]:
    """The licenses of an expression."""
    return set(re.split(r" AND | OR ", expression))


# -- the built folder ---------------------------------------------------------


def uncovered(paths: list[str], known: list[Notice]) -> list[str]:
    """The files that no notice covers."""
    patterns = [pattern for each in known for pattern in each.files]
    return [path for path in paths if not any(fnmatchcase(path, pattern) for pattern in patterns)]


def files(site: Path) -> list[str]:
    return [path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()]


def test_every_file_of_the_built_folder_has_a_notice(site: Path) -> None:
    """A file that a new version of the theme or of Python brings along must be looked at."""
    assert not uncovered(files(site), list(NOTICES.values()))
    assert uncovered(["assets/javascripts/other.min.js"], list(NOTICES.values()))


def test_every_notice_covers_a_file(site: Path) -> None:
    """No notice stands for what is not there any more."""
    for each in NOTICES.values():
        for pattern in each.files:
            assert any(fnmatchcase(path, pattern) for path in files(site)), (each.key, pattern)


def test_the_texts_lie_in_the_folder_and_the_page_names_them(site: Path) -> None:
    """One text a work and no other; no search finds the page."""
    assert {path.name for path in (site / FOLDER).iterdir()} == {f"{key}.txt" for key in NOTICES}
    page = (site / "reference" / "licenses.html").read_text(encoding="utf-8")
    for key, each in NOTICES.items():
        assert (site / FOLDER / f"{key}.txt").read_text(encoding="utf-8") == each.text
        assert f"../{FOLDER}/{key}.txt" in page
        assert len(each.text) > 200
    worker = (site / "search" / "search_worker.js").read_text(encoding="utf-8")
    assert "reference/licenses.html" not in searched(worker)
    assert "reference/glossary.html" in searched(worker)


def searched(worker: str) -> str:
    """What a search looks through, out of its script."""
    found = re.search(r'\["search-docs"\] = "([^"]+)"', worker)
    assert found
    return gzip.decompress(base64.b64decode(found[1])).decode()


# -- the theme ----------------------------------------------------------------


def packages() -> set[str]:
    """The packages whose code is in the theme's script and main style sheet, by their source maps; its worker is not used."""
    maps = [*THEME.glob("assets/javascripts/*.map"), *THEME.glob("assets/stylesheets/*.map")]
    sources = [source for path in maps for source in json.loads(path.read_text(encoding="utf-8"))["sources"]]
    return {found[1] for source in sources if (found := re.search(r"node_modules/((?:@[^/]+/)?[^/]+)", source))}


def test_every_package_in_the_theme_has_a_notice() -> None:
    """A package that the next version of the theme takes in fails here."""
    assert {BUNDLED.get(name, name) for name in packages()} <= set(NOTICES)
    script = next(THEME.glob("assets/javascripts/bundle.*.js.map")).read_text(encoding="utf-8")
    assert "tiny_emitter" in script


class Paths(HTMLParser):
    """The outlines of a page's drawings."""

    def __init__(self) -> None:
        super().__init__()
        self.found: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "path":
            self.found.add(dict(attrs).get("d") or "")


def outlines(text: str) -> set[str]:
    reader = Paths()
    reader.feed(text)
    return reader.found


def families(drawn: set[str]) -> set[str]:
    """The families of icons that have one of these outlines."""
    folder = THEME / ".icons"
    return {path.relative_to(folder).parts[0] for path in folder.rglob("*.svg")
            if outlines(path.read_text(encoding="utf-8")) & drawn}  # fmt: skip


def test_every_family_of_icons_has_a_notice(site: Path) -> None:
    """In the style sheets, and in the pages."""
    sheets = [unquote(path.read_text(encoding="utf-8")) for path in site.glob("assets/stylesheets/*.css")]
    in_sheets = {d for sheet in sheets for d in re.findall(r"""\bd=['"]([^'"]+)['"]""", sheet)}
    assert families(in_sheets) == set(FAMILIES)
    for name in ("index.html", "assets/javascripts/shell.js"):
        text = (site / name).read_text(encoding="utf-8").replace('\\"', '"')
        assert families(outlines(text)) == {"material"}, name
    assert {"*.html", "assets/javascripts/shell.js"} <= set(NOTICES["icons-material"].files)


# -- versions and texts -------------------------------------------------------


@pytest.fixture(scope="module")
def packed(pyodide_dir: Path) -> bytes:
    """The compiled part of Pyodide."""
    return (pyodide_dir / "pyodide.asm.wasm").read_bytes()


def test_the_versions_are_those_that_are_packed(packed: bytes, pyodide_dir: Path) -> None:
    """Each as its own package tells it, or as it stands in the compiled file."""
    lock = json.loads((pyodide_dir / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]
    told = {
        "pyodide": json.loads((pyodide_dir / "package.json").read_text(encoding="utf-8"))["version"],
        "python": lock["python"],
        "python-parts": lock["python"],
        "emscripten": lock["platform"].removeprefix("emscripten_").replace("_", "."),
        "theme": importlib.metadata.version("mkdocs-material"),
    }
    assert {key: NOTICES[key].version for key in told} == told
    for key in ("expat", "zlib", "bzip2", "xz", "zstd"):
        assert re.search(rb"(?:^|[^0-9.])" + re.escape(NOTICES[key].version.encode()) + rb"(?:[^0-9.]|$)", packed), key


def test_what_is_linked_into_python_has_a_notice(packed: bytes) -> None:
    """By names that only these libraries have."""
    marks = {"expat": b"expat_", "zlib": b"inflate_copyright", "bzip2": b"libbzip2", "xz": b"lzma_code",
             "zstd": b"ZSTD_", "sqlite": b"sqlite3_open", "libffi": b"ffi_call", "emscripten": b"emscripten"}  # fmt: skip
    assert {key for key, mark in marks.items() if mark in packed} == set(marks) & set(NOTICES)


def test_the_scripts_of_the_theme_have_the_versions_told(site: Path) -> None:
    """Where a script says its version."""
    bundle = next(site.glob("assets/javascripts/bundle.*.min.js")).read_text(encoding="utf-8")
    assert f"clipboard.js v{NOTICES['clipboard'].version}" in bundle
    assert "lunr" not in (site / "search" / "search_worker.js").read_text(encoding="utf-8")


def squeezed(text: str) -> str:
    return " ".join(text.split())


def installed() -> Iterator[tuple[str, str]]:
    """The texts that installed packages bring along, by the notices they belong to."""
    theme = importlib.metadata.distribution("mkdocs-material")
    yield "theme", Path(str(theme.locate_file(f"mkdocs_material-{theme.version}.dist-info/licenses/LICENSE"))).read_text("utf-8")
    yield "icons-material", (THEME / ".icons" / "material" / "LICENSE").read_text("utf-8")
    yield "icons-octicons", (THEME / ".icons" / "octicons" / "LICENSE").read_text("utf-8")
    yield "icons-fontawesome", (THEME / ".icons" / "fontawesome" / "LICENSE.txt").read_text("utf-8")
    yield "source-sans", (Path(font_source_sans_pro.__file__).parent / "files" / "LICENSE.txt").read_text("utf-8")
    yield "operator-handbook", (ROOT / "LICENSE").read_text("utf-8")


def test_the_texts_are_those_of_the_installed_packages() -> None:
    """A new version with other terms, or another year, fails here."""
    for key, text in installed():
        assert squeezed(NOTICES[key].text).startswith(squeezed(text)), key


def test_the_booklets_hold_no_other_typeface(site: Path) -> None:
    """Whatever is drawn in a booklet is Source Sans Pro."""
    names = set()
    for path in site.glob("packs/*.pdf"):
        with pikepdf.open(path) as pdf:
            names |= {str(each.FontName) for each in pdf.objects
                      if isinstance(each, pikepdf.Dictionary) and "/FontName" in each}  # fmt: skip
    assert names
    assert all("SourceSansPro" in name for name in names), names


# -- what may be depended on --------------------------------------------------


def declared(name: str) -> set[str]:
    """The licenses that an installed package declares."""
    told = importlib.metadata.metadata(name)
    if expression := told.get("License-Expression"):
        return parts(expression)
    classes = [line.rsplit(" :: ", 1)[1] for line in told.get_all("Classifier", []) if line.startswith("License ::")]
    found = {SAID.get(each, each) for each in classes}
    return found or {told.get("License", "")}


def test_every_locked_package_declares_a_license_that_is_allowed() -> None:
    """And so does every work within the folder."""
    lock = (ROOT / "tools" / "locks" / "build.txt").read_text(encoding="utf-8")
    names = set(re.findall(r"^([\w.-]+)==", lock, re.MULTILINE))
    assert len(names) > 30
    for name in sorted(names):
        assert declared(name) <= ALLOWED, (name, declared(name))
    for each in NOTICES.values():
        assert parts(each.license) <= ALLOWED, each.key


def test_what_pyodide_brings_is_still_mpl(pyodide_dir: Path) -> None:
    """Its package has no text of a license, only its name."""
    told = json.loads((pyodide_dir / "package.json").read_text(encoding="utf-8"))["license"]
    assert told == NOTICES["pyodide"].license
    assert NOTICES["pyodide"].text.startswith("Mozilla Public License Version 2.0")
    with zipfile.ZipFile(pyodide_dir / "python_stdlib.zip") as library:
        assert "typing.py" in library.namelist()
