"""The calculators as a wheel: loaded by name in the bundled Pyodide, from the lock file."""

import hashlib
import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tools.commands.environment import ROOT

LOAD = """
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
const [pyodideDir, dist] = process.argv.slice(1);
const { loadPyodide } = await import(pathToFileURL(pyodideDir + "/pyodide.mjs").href);
const python = await loadPyodide({
  lockFileContents: JSON.parse(readFileSync(dist + "/pyodide-lock.json", "utf8")),
  packageBaseUrl: dist + "/",
});
await python.loadPackage("handbook-calculators", { messageCallback() {} });
console.log(python.runPython(`
import calculators, importlib.util, json
json.dumps({"file": calculators.__file__, "answer": calculators.run_json("nothing", "{}")})
`));
"""


def make(out: Path) -> Path:
    """Run the command; return the folder it filled."""
    command = [sys.executable, ROOT / "tools" / "handbook.py", "wheel", "--out", out]
    answer = subprocess.run(command, capture_output=True, text=True, check=False)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    return out


@pytest.fixture(scope="module")
def dist(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What the command makes."""
    return make(tmp_path_factory.mktemp("wheel") / "a folder")


def test_the_lock_names_the_compiled_wheel_alone(dist):
    """With its hash, and nothing else to fetch."""
    packages = json.loads((dist / "pyodide-lock.json").read_text())["packages"]
    assert list(packages) == ["handbook-calculators"]
    entry = packages["handbook-calculators"]
    assert entry["depends"] == []
    assert entry["imports"] == ["calculators"]
    wheel = dist / entry["file_name"]
    assert hashlib.sha256(wheel.read_bytes()).hexdigest() == entry["sha256"]


def test_both_wheels_hold_every_module_and_rule(dist):
    """As source in one, as bytecode in the other."""
    plain = names(next(dist.glob("*-py3-none-any.whl")))
    compiled = names(next(dist.glob("*-cp3*-none-any.whl")))
    wanted = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "calculators").rglob("*")
        if path.suffix in {".py", ".toml"}
    }
    assert wanted <= plain
    assert {name.replace(".py", ".pyc") for name in wanted} <= compiled


def names(wheel: Path) -> set[str]:
    """Return what a wheel holds."""
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def test_pyodide_loads_it_by_name(dist, node, pyodide_dir):
    """Offline, from the folder that holds the lock file."""
    answer = subprocess.run(
        [node, "--input-type=module", "-e", LOAD, str(pyodide_dir), str(dist)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert answer.returncode == 0, answer.stderr[-2000:]
    told = json.loads(answer.stdout.splitlines()[-1])
    assert told["file"].endswith("calculators/__init__.pyc")
    assert "nothing" in told["answer"]


def test_the_same_sources_give_the_same_bytes(dist, tmp_path):
    """File by file."""
    again = make(tmp_path / "again")
    assert {p.name: p.read_bytes() for p in dist.iterdir()} == {
        p.name: p.read_bytes() for p in again.iterdir()
    }
