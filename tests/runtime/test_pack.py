"""tools/runtime/pack.py: what it packs, that it repeats itself, and what it refuses."""

import base64
import gzip
import io
import json
import re
import tomllib
import zipfile
from pathlib import Path

import pytest

from tools.runtime import pack as packer

PACKAGE = {
    "__init__.py": (
        '"""Adds numbers."""\n'
        "import json, pkgutil, tomllib\n"
        "from calculators.core import total\n"
        'RULES = tomllib.loads(pkgutil.get_data(__name__, "rules/us.toml").decode())\n'
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
    packer.write_tree(folder / "calculators", {n: t.encode() for n, t in files.items()})
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
    texts = [re.fullmatch(r'.*\["[\w-]+"\] = "(.+)";\n', part.read_text())[1] for part in parts]
    return gzip.decompress(base64.b64decode("".join(texts)))


def zipped(folder: Path, name: str) -> zipfile.ZipFile:
    """Open an asset that is a zip."""
    return zipfile.ZipFile(io.BytesIO(asset(folder, name)))


def contents(folder: Path) -> dict[str, bytes]:
    """Return {file name: bytes}."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_two_builds_are_byte_identical(do_pack, tmp_path):
    """Two packs that share no cache give the same files."""
    do_pack("one", cache_dir=tmp_path / "cache-1")
    do_pack("two", cache_dir=tmp_path / "cache-2")
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_an_unchanged_pack_comes_from_the_cache(do_pack, tmp_path):
    """The second of two equal packs makes nothing and gives the same."""
    first = do_pack("one", cache_dir=tmp_path / "cache")
    said = []
    second = do_pack("two", cache_dir=tmp_path / "cache", say=said.append)
    assert (first["cached"], second["cached"], said) == (False, True, [])
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_a_changed_calculator_leaves_the_library_alone(do_pack, tmp_path):
    """Only the package is compiled again; other assets keep their bytes."""
    do_pack("one")
    write_package(tmp_path / "source", {"core.py": "def total(numbers):\n    return 7\n"})
    said = []
    assert not do_pack("two", say=said.append)["cached"]
    assert said == ["python runtime: making assets", "python runtime: making calculators"]
    one, two = contents(tmp_path / "one"), contents(tmp_path / "two")
    assert [name for name in one if one[name] != two[name]] == ["python-calculators-0.js"]


def test_the_package_holds_bytecode_data_and_build(do_pack, tmp_path):
    """Tests, caches, notes and the command line stay out; rule files come along."""
    do_pack()
    archive = zipped(tmp_path / "out", "calculators")
    assert archive.namelist() == [
        "calculators/__init__.pyc",
        "calculators/_build_id.txt",
        "calculators/core.pyc",
        "calculators/rules/us.json",
        "calculators/rules/us.toml",
    ]
    # The quick copy says what the table says.
    assert json.loads(archive.read("calculators/rules/us.json")) == tomllib.loads(
        archive.read("calculators/rules/us.toml").decode()
    )
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
    modules = packer.allowed_modules((packer.HERE / "library.txt").read_text())
    job = {"do": "check", "modules": modules}
    assert packer.Tools(node, pyodide_dir).run(job, tmp_path, library) == python


def test_the_library_lacks_what_is_not_needed(do_pack, tmp_path):
    """What Pyodide would load for packages and waiting is not there."""
    do_pack()
    names = set(zipped(tmp_path / "out", "library").namelist())
    unwanted = {"ssl.pyc", "subprocess.pyc", "zipfile/__init__.pyc", "asyncio/events.pyc"}
    assert not names & unwanted
    assert {"json/__init__.pyc", "_strptime.pyc", "asyncio/__init__.pyc"} <= names


def test_all_assets_stay_small(do_pack, tmp_path):
    """Below 7.5 MB together, and no script so long that reading it holds up a page."""
    result = do_pack()
    on_disk = {path.name: path.stat().st_size for path in (tmp_path / "out").iterdir()}
    assert result["files"] == on_disk
    assert result["bytes"] == sum(on_disk.values()) < 7_500_000
    assert max(on_disk.values()) < packer.PART_SIZE + 200


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
    packer.write_tree(tmp_path / "out", {"python-wasm-9.js": b"", "other.js": b""})
    do_pack()
    names = set(contents(tmp_path / "out"))
    assert "python-wasm-9.js" not in names
    assert "other.js" in names


def test_a_module_outside_the_library_stops_the_build(do_pack, tmp_path):
    """The error names our module, the missing one, and every such module at once."""
    changes = {"core.py": "import ssl\n", "more.py": "import sqlite3\n"}
    write_package(tmp_path / "source", changes)
    with pytest.raises(packer.PackError, match=r"calculators\.core: .*'ssl'") as caught:
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
    with pytest.raises(packer.PackError, match=message):
        do_pack(**change, **({"cache_dir": tmp_path / "new"} if "node" in change else {}))


def test_a_module_without_a_reason_is_refused():
    """library.txt says why each module is there."""
    with pytest.raises(packer.PackError, match="'json'"):
        packer.allowed_modules("# heading\nmath  # sums\njson\n")
