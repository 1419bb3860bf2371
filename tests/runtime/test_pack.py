"""tools/runtime/pack.py: what it packs, that it repeats itself, and what it refuses."""

import gzip
import io
import json
import re
import tomllib
import zipfile
from pathlib import Path

import pytest

from tools.runtime import pack as packer
from tools.runtime import stdlib
from tools.runtime.errors import PackError
from tools.runtime.folders import write_tree
from tools.runtime.scripts import PART_SIZE, sixteen_bits

PACKAGE = {
    "__init__.py": (
        '"""Adds numbers."""\n'
        "import json, pkgutil\n"
        "from calculators.core import total\n"
        'RULES = json.loads(pkgutil.get_data(__name__, "rules/us.json"))\n'
        "def run_json(name, text):\n"
        '    return json.dumps({name: total(json.loads(text)) * RULES["factor"]})\n'
    ),
    "core.py": "def total(numbers):\n    return sum(numbers)\n",
    "rules/us.toml": "factor = 10\n",
    "notes.md": "# Not for the browser\n",
    "tests/test_core.py": "raise SystemExit\n",
    "__pycache__/core.cpython-311.pyc": "old\n",
    "__main__.py": "import argparse\n",
}


def write_package(folder: Path, files: dict[str, str]) -> Path:
    """Write a package `calculators` below `folder` and return `folder`."""
    write_tree(folder / "calculators", {n: t.encode() for n, t in files.items()})
    return folder


@pytest.fixture
def do_pack(tmp_path, node, pyodide_dir, runtime_cache):
    """Call pack() on a small package; keyword arguments replace the usual ones."""

    def call(out: str = "out", **changes) -> dict:
        usual = {
            "node": node,
            "pyodide_dir": pyodide_dir,
            "source_dir": tmp_path / "source",
            "cache_dir": runtime_cache,
            "build_id": "build-1",
            "say": lambda line: None,
        }
        return packer.pack(tmp_path / out, **(usual | changes))

    write_package(tmp_path / "source", PACKAGE)
    return call


def asset(folder: Path, name: str) -> bytes:
    """Unpack one asset again from its scripts."""
    parts = sorted(folder.glob(f"python-{name}-*.js"))
    # Python takes the order of bytes from the file's first two, as a browser does.
    texts = [part.read_bytes().decode("utf-16").split('"] = "')[1].removesuffix('";\n') for part in parts]
    return gzip.decompress(b"".join(map(bytes_of, texts)))


def bytes_of(text: str) -> bytes:
    """What text of sixteen bits a character holds."""
    held = re.sub("\ue000(.)", lambda found: chr(ord(found[1]) ^ 0x8000), text[1:], flags=re.DOTALL)
    data = held.encode("utf-16-le", "surrogatepass")
    return data[: len(data) - int(text[0])]


def zipped(folder: Path, name: str) -> zipfile.ZipFile:
    """Open an asset that is a zip."""
    return zipfile.ZipFile(io.BytesIO(asset(folder, name)))


def contents(folder: Path) -> dict[str, bytes]:
    """Return {file name: bytes}."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_two_builds_are_byte_identical(do_pack, tmp_path, monkeypatch):
    """Two packs that share no cache give the same files, whatever the zone, the language and the user's name."""
    do_pack("one")
    for name, value in {"TZ": "Asia/Kolkata", "LC_ALL": "de_DE.UTF-8", "USER": "other", "HOME": str(tmp_path)}.items():
        monkeypatch.setenv(name, value)
    do_pack("two", cache_dir=tmp_path / "cache")
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_an_unchanged_pack_comes_from_the_cache(do_pack, tmp_path):
    """The second of two equal packs makes nothing and gives the same."""
    first = do_pack("one", build_id="unchanged")
    said = []
    second = do_pack("two", build_id="unchanged", say=said.append)
    assert (first["cached"], second["cached"], said) == (False, True, [])
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_a_changed_calculator_leaves_the_library_alone(do_pack, tmp_path):
    """Only the package is compiled again, and the memory that has it; other assets keep their bytes."""
    do_pack("one")
    write_package(tmp_path / "source", {"core.py": "def total(numbers):\n    return 7\n"})
    said = []
    assert not do_pack("two", say=said.append)["cached"]
    assert said == ["python runtime: making assets", "python runtime: making calculators"]
    one, two = contents(tmp_path / "one"), contents(tmp_path / "two")
    assert {name.split("-")[1] for name in one if one[name] != two[name]} == {"calculators", "snapshot"}


def test_the_package_holds_bytecode_data_and_build(do_pack, tmp_path):
    """Tests, caches, notes and the command line stay out; rule files come along."""
    do_pack()
    archive = zipped(tmp_path / "out", "calculators")
    assert archive.namelist() == [
        "calculators/__init__.pyc",
        "calculators/_build_id.txt",
        "calculators/core.pyc",
        "calculators/rules/us.json",
    ]
    # The quick copy says what the table says.
    table = tomllib.loads(PACKAGE["rules/us.toml"])
    assert json.loads(archive.read("calculators/rules/us.json")) == table
    assert archive.read("calculators/_build_id.txt") == b"build-1"


def test_zips_are_stored_and_timeless(do_pack, tmp_path):
    """Bytecode is never checked against a source and carries no time or machine path."""
    do_pack()
    for name in ("library", "calculators"):
        archive = zipped(tmp_path / "out", name)
        for entry in archive.infolist():
            assert entry.compress_type == zipfile.ZIP_STORED
            assert entry.date_time == (1980, 1, 1, 0, 0, 0)
            data = archive.read(entry)
            assert str(tmp_path).encode() not in data
            if entry.filename.endswith(".pyc"):
                assert int.from_bytes(data[4:8], "little") == 1, "unchecked-hash flag"


def test_the_library_imports_all_that_is_allowed(do_pack, tmp_path, node, pyodide_dir):
    """The packed library alone, under Node, imports every module of library.txt."""
    python = do_pack()["python"]
    library = tmp_path / "library.zip"
    library.write_bytes(asset(tmp_path / "out", "library"))
    modules = stdlib.modules()
    job = {"do": "check", "modules": modules}
    assert packer.Tools(node, pyodide_dir).run(job, tmp_path, library) == python


def test_the_library_lacks_what_is_not_needed(do_pack, tmp_path):
    """What Pyodide would load for packages and waiting is not there, nor what no calculator imports."""
    do_pack()
    names = set(zipped(tmp_path / "out", "library").namelist())
    unwanted = {"ssl.pyc", "subprocess.pyc", "zipfile/__init__.pyc", "asyncio/events.pyc", "html/entities.pyc",
                "tomllib/__init__.pyc", "_strptime.pyc", "locale.pyc"}  # fmt: skip
    assert not names & unwanted
    assert {"json/__init__.pyc", "html/__init__.pyc", "asyncio/__init__.pyc"} <= names


def test_all_assets_stay_small(do_pack, tmp_path):
    """Below 4.4 MB together, and no script so long that reading it holds up a page."""
    result = do_pack()
    on_disk = {path.name: path.stat().st_size for path in (tmp_path / "out").iterdir()}
    assert result["files"] == on_disk
    assert result["bytes"] == sum(on_disk.values()) < 4_400_000
    # One of 32 symbols takes two characters.
    assert max(on_disk.values()) < 1.04 * PART_SIZE + 200


def test_the_page_script_knows_build_and_parts(do_pack, tmp_path):
    """runtime.js carries the build and how many scripts each asset has."""
    do_pack(build_id="b-2")
    text = (tmp_path / "out" / "runtime.js").read_text()
    packed = json.loads(re.search(r"const PACKED = (\{.*\});", text)[1])
    assert packed["build"] == "b-2"
    for name, count in packed["parts"].items():
        assert len(list((tmp_path / "out").glob(f"python-{name}-*.js"))) == count


def test_older_assets_are_removed(do_pack, tmp_path):
    """A part that the new pack no longer has does not stay behind."""
    write_tree(tmp_path / "out", {"python-wasm-9.js": b"", "other.js": b""})
    do_pack()
    names = set(contents(tmp_path / "out"))
    assert "python-wasm-9.js" not in names
    assert "other.js" in names


def test_a_module_to_put_off_must_be_there():
    """Another Pyodide may lack one; its name is told."""
    with pytest.raises(PackError, match=r"no module inspect"):
        stdlib.put_off("inspect", {}, {})


def test_a_module_outside_the_library_stops_the_build(do_pack, tmp_path):
    """The error names our module, the missing one, and every such module at once."""
    changes = {"core.py": "import ssl\n", "more.py": "import sqlite3\n"}
    write_package(tmp_path / "source", changes)
    with pytest.raises(PackError, match=r"calculators\.core: .*'ssl'") as caught:
        do_pack()
    assert "calculators.more" in str(caught.value)
    assert "library.txt" in str(caught.value)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"node": "no-such-node"}, "cannot run Node"),
        ({"pyodide_dir": Path("nowhere")}, "npm ci"),
        ({"source_dir": Path("nowhere")}, "not a package"),
    ],
)
def test_what_is_missing_is_named(do_pack, tmp_path, change, message):
    """Each missing input has its own message with a way out."""
    with pytest.raises(PackError, match=message):
        do_pack(**change, **({"cache_dir": tmp_path / "new"} if "node" in change else {}))


def test_a_module_without_a_reason_is_refused():
    """library.txt says why each module is there."""
    with pytest.raises(PackError, match="'json'"):
        stdlib.allowed_modules("# heading\nmath  # sums\njson\n")


@pytest.mark.parametrize("length", range(9))
def test_text_of_sixteen_bits_holds_its_bytes(length):
    """Any length."""
    data = bytes((37 * index + 253) % 256 for index in range(length))
    assert bytes_of(sixteen_bits(data)) == data


def test_text_of_sixteen_bits_holds_every_pair_of_bytes():
    """Nothing in it ends a string or a line, is half of a pair, or might be taken for a mark of order."""
    data = b"".join(code.to_bytes(2, "little") for code in range(0x10000))
    text = sixteen_bits(data)
    assert bytes_of(text) == data
    assert not set(text) & set('\0\n\r"\\\u2028\u2029\ufeff\ufffe\uffff')
    assert text.encode("utf-16-le").decode("utf-16-le") == text


def test_the_package_keeps_no_docstrings(do_pack, tmp_path):
    """What nobody reads in a browser is not carried there."""
    do_pack()
    assert b"Adds numbers." not in zipped(tmp_path / "out", "calculators").read("calculators/__init__.pyc")
