"""The whole tool as a wheel: what it holds, and that an operator with Python alone gets a handbook from it.

The commands are those of the README's part “With Python alone”, word for word, in an empty folder, with a PATH on
which there is a Python and no Node.
"""

from __future__ import annotations

import csv
import email
import hashlib
import os
import re
import shutil
import subprocess
import sys
import tomllib
import zipfile
from dataclasses import dataclass
from email.message import Message
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from playwright.sync_api import sync_playwright

import calculators
from tests.browser.conftest import FLAGS, until
from tools import handbook
from tools.commands.environment import outer_python
from tools.licenses import notices
from tools.post import listing

ROOT = Path(__file__).parents[2]
LOCK = ROOT / "tools" / "locks" / "build.txt"
OFFERED = {"new", "check", "build", "verify", "serve", "own", "calc", "editions"}

pytestmark = pytest.mark.slow


def make(out: Path, umask: int) -> Path:
    """Run the command; return the folder it filled."""
    command = [sys.executable, ROOT / "tools" / "handbook.py", "package", "--out", out]
    answer = subprocess.run(command, capture_output=True, text=True, check=False, cwd=out.parent, umask=umask)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    return out


@pytest.fixture(scope="module")
def dist(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What the command makes."""
    return make(tmp_path_factory.mktemp("package") / "a folder", 0o022)


@pytest.fixture(scope="module")
def held(dist: Path) -> dict[str, bytes]:
    """Every file of the wheel."""
    with zipfile.ZipFile(next(dist.glob("*.whl"))) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


@pytest.fixture(scope="module")
def metadata(held: dict[str, bytes]) -> Message:
    return email.message_from_bytes(next(data for name, data in held.items() if name.endswith("/METADATA")))


# -- the wheel ----------------------------------------------------------------


def test_the_same_sources_give_the_same_bytes(dist: Path, tmp_path: Path) -> None:
    """Whatever the machine thinks of file rights; the list of hashes too."""
    again = make(tmp_path / "again", 0o077)
    assert {path.name: path.read_bytes() for path in dist.iterdir()} == {
        path.name: path.read_bytes() for path in again.iterdir()
    }
    assert len(list(dist.iterdir())) == 2


def test_it_holds_the_house_and_nothing_of_the_clone(held: dict[str, bytes]) -> None:
    """What is written for operators is there to the byte; tests, data of the demonstration and workshops are not."""
    house = {name.removeprefix("operator_handbook/house/"): data for name, data in held.items() if "/house/" in name}
    for folder in ("calculators", "docs", "tools/book", "tools/pages", "tools/post", "tools/starter", "tools/runtime"):
        for path in (ROOT / folder).rglob("*"):
            name = path.relative_to(ROOT).as_posix()
            left = name.startswith("docs/data/") or name == "docs/assets/readme.png" or "__pycache__" in name
            if path.is_file():
                assert (name in house) is not left, name
                assert left or house[name] == path.read_bytes(), name
    unwanted = re.compile(r"(^|/)(tests?|mutation|fuzzing|locks|bench\w*\.py|\..*)(/|$)|^docs/data|^tools/drawings|\.pyc$")
    assert not [name for name in house if unwanted.search(name) and "/without/" not in name]
    assert {name for name in handbook.COMMANDS if f"tools/commands/{name}.py" in house} == OFFERED


def test_it_names_no_place_of_this_machine(held: dict[str, bytes]) -> None:
    """Neither where it was made nor where its Python lies."""
    for name, data in held.items():
        for place in (ROOT, Path(sys.prefix).resolve(), Path(sys.base_prefix)):
            assert str(place).encode() not in data, (name, place)


def test_it_asks_for_the_locked_packages_and_no_others(metadata: Message) -> None:
    """The same versions for the same Pythons."""
    locked = re.findall(r"^(\S+==[^\\\n]+?)\s*\\$", LOCK.read_text(encoding="utf-8"), re.MULTILINE)
    assert {str(Requirement(each)) for each in metadata.get_all("Requires-Dist", [])} == {
        str(Requirement(each)) for each in locked
    }
    assert len(locked) > 30
    assert metadata["Requires-Python"] == ">=3.11"


def test_it_carries_its_licenses(metadata: Message, held: dict[str, bytes]) -> None:
    """Each text, under its name in the metadata and in the house."""
    for each in notices():
        assert f"licenses/{each.key}.txt" in metadata.get_all("License-File", [])
        assert held[f"operator_handbook/house/tools/licenses/texts/{each.key}.txt"].decode() == each.text
    assert {"MIT", "MPL-2.0", "PSF-2.0"} <= set(metadata["License-Expression"].split(" AND "))


def test_the_list_beside_it_has_a_hash_for_every_file(dist: Path) -> None:
    """The wheel's own, and all of the lock."""
    wheel, told = next(dist.glob("*.whl")), next(dist.glob("*.txt")).read_text(encoding="utf-8")
    assert f"operator-handbook=={version()} --hash=sha256:{hashlib.sha256(wheel.read_bytes()).hexdigest()}\n" in told
    assert told.endswith(LOCK.read_text(encoding="utf-8"))


def version() -> str:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]


# -- an operator with Python alone ----------------------------------------------


@dataclass
class Operator:
    """An operator's machine: a folder of theirs, and what they may call."""

    folder: Path
    path: str
    said: str = ""

    def run(self, *command: str) -> subprocess.CompletedProcess[str]:
        """Run a command in the folder, without this repository's environment and without a keyboard."""
        ours = re.compile(r"PATH$|PYTHON|VIRTUAL_ENV|HANDBOOK_|HOME$")
        environ = {name: value for name, value in os.environ.items() if not ours.match(name)}
        return subprocess.run(
            command, cwd=self.folder, env={**environ, "PATH": self.path, "HOME": str(self.folder.parent)},
            stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False,
        )  # fmt: skip

    def handbook(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        return self.run(str(self.folder / "tool" / "bin" / "handbook"), *arguments)

    @property
    def site(self) -> Path:
        return self.folder / "our-handbook" / "site"


def commands() -> str:
    """The commands of the README's part for operators, as they stand there."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    found = re.search(r"^### With Python alone\n.*?^```\n(.*?)^```$", readme, re.MULTILINE | re.DOTALL)
    assert found
    return found[1]


@pytest.fixture(scope="module")
def operator(dist: Path, tmp_path_factory: pytest.TempPathFactory) -> Operator:
    """The README's commands, followed by somebody who has the two files and Python."""
    place = tmp_path_factory.mktemp("operator")
    (place / "bin").mkdir()
    python = place / "bin" / "python3"
    python.write_text(f'#!/bin/sh\nexec "{outer_python()}" "$@"\n', encoding="utf-8")
    python.chmod(0o755)
    # What the environment's own `activate` asks of a system.
    (place / "bin" / "uname").symlink_to(str(shutil.which("uname")))
    operator = Operator(Path(shutil.copytree(dist, place / "work")), str(place / "bin"))
    answer = operator.run("/bin/sh", "-e", "-c", commands())
    assert answer.returncode == 0, answer.stdout + answer.stderr
    operator.said = answer.stdout
    return operator


def test_the_readme_s_commands_make_a_handbook(operator: Operator) -> None:
    """With no Node to be found; nothing lies about but what the README names."""
    assert shutil.which("node", path=operator.path) is None
    assert "Nothing is wrong" in operator.said
    assert "Open our-handbook/site/index.html" in operator.said
    assert {path.name for path in operator.folder.iterdir()} == {
        "our-handbook", "tool", *(path.name for path in operator.folder.glob("operator_handbook-*")),
    }  # fmt: skip


def test_the_handbook_says_the_operator_s_facts(operator: Operator) -> None:
    """The name, rules and emergency number that `new` took, and the packed Python of the wheel."""
    def page(name: str) -> str:
        return (operator.site / name).read_text(encoding="utf-8")

    assert " - Our vending</title>" in page("index.html")
    assert "Call 911" in page("safety/emergency.html")
    assert "goes by the rules of: <strong>United States</strong>" in page("reference/rules.html")
    assert ">$1.50<" in page("products/example-water.html")
    assert (operator.site / "licenses" / "pyodide.txt").is_file()


def test_the_packed_python_is_the_wheel_s(operator: Operator, held: dict[str, bytes]) -> None:
    """Byte for byte, and of the build that the pages name."""
    packed = {Path(name).name: data for name, data in held.items() if "/packed/" in name}
    build_id = packed.pop("build_id.txt").decode()
    runtime = operator.site / "assets" / "runtime"
    assert {path.name: path.read_bytes() for path in runtime.iterdir()} == packed
    assert listing.read(operator.site).build == build_id
    assert re.search(rf'data-build="?{build_id}[" >]', (operator.site / "calculators" / "clearance.html").read_text("utf-8"))


def test_nothing_is_written_where_pip_installed_it(operator: Operator) -> None:
    """The list that pip keeps of what it put there still names every file."""
    packages = next((operator.folder / "tool").glob("lib/python*/site-packages"))
    with next(packages.glob("operator_handbook-*.dist-info/RECORD")).open(encoding="utf-8", newline="") as record:
        listed = {row[0] for row in csv.reader(record)}
    found = {path.relative_to(packages).as_posix() for path in (packages / "operator_handbook").rglob("*") if path.is_file()}
    assert len(found) > 200
    assert found <= listed


def test_an_installed_house_speaks_of_itself(operator: Operator) -> None:
    """Its own name, its own commands; no demonstration, no clone."""
    listed = operator.handbook("--help").stdout
    assert set(re.findall(r"^  (\w+)  +\w", listed, re.MULTILINE)) == OFFERED
    assert "handbook COMMAND" in listed
    told = listed + operator.handbook("build", "--help").stdout + (operator.folder / "our-handbook" / "handbook.toml").read_text("utf-8")
    for command in ("build", "check", "serve"):
        answer = operator.handbook(command)
        assert answer.returncode == 1
        assert "The folder of your handbook is missing" in answer.stderr
        told += answer.stderr
    assert "no command “test”" in operator.handbook("test").stderr
    assert "handbook.py" not in told + operator.said
    assert "emonstration" not in told
    made = operator.handbook("editions", "our-handbook")
    assert made.returncode == 0, made.stderr
    assert (operator.folder / "our-handbook" / "editions" / "handbook.html").is_file()
    assert "Nothing has changed" in operator.handbook("build", "our-handbook").stdout


def test_a_mistake_is_told_and_a_page_can_be_written_anew(operator: Operator) -> None:
    """`own` copies one of the installed pages, `check` reads the folder with it."""
    shutil.copytree(operator.folder / "our-handbook", operator.folder.parent / "other", ignore=shutil.ignore_patterns("site", ".handbook"))
    assert operator.handbook("own", "../other", "procedures/clean").returncode == 0
    assert "Pages of your own: 1." in operator.handbook("check", "../other").stdout
    tables = operator.folder.parent / "other" / "tables"
    (tables / "crew.csv").write_text("key,name\n", encoding="utf-8")
    answer = operator.handbook("check", "../other")
    assert answer.returncode == 1
    assert "crew.csv" in answer.stderr
    assert "Traceback" not in answer.stderr


@pytest.mark.browser
def test_its_calculator_computes_from_a_file(operator: Operator, chromium: str) -> None:
    """What native Python works out of the same example."""
    state = "document.querySelector('[data-calculator]').dataset.state"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        page = browser.new_page()
        page.goto((operator.site / "calculators" / "circuit.html").as_uri())
        until(lambda: page.evaluate(f"['ready', 'failed'].includes({state})"), "an answer")
        assert page.evaluate(state) == "ready"
        shown = page.get_attribute(".hb-outcome", "data-outcome"), page.inner_text(".hb-headline")
        browser.close()
    found = calculators.get("circuit")
    native = found.run({"units": found.example_units, "inputs": dict(found.example)})
    assert shown == (native["outcome"], native["headline"].split(". ", 1)[-1])
