"""What the tests need from the machine. Nothing is skipped: what is missing fails."""

import os
import shutil
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import settings

from tools.book import data
from tools.commands import build, place

# A busy machine must not decide a test: what an example takes is no reason to fail.
settings.register_profile("house", deadline=None)
settings.load_profile("house")

ROOT = Path(__file__).parent.parent
# What the calculators say of the demonstration is there from the build that the checks begin with, under the hash of its
# question and of all that answers it: no test has to work it out again.
KEPT = build.answers(place.of(None))
setattr(data, "Answers", lambda: KEPT)  # noqa: B010 - a class in the eyes of mypy

# What takes longest; of these, and of all others after them, the order does not matter.
LONG = ("browser/", "engines/", "calculators/test_contract.py", "print/", "pages/", "results/", "tools/", "runtime/", "calculators/")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Where workers share the files, the long ones go out first: what is left for the end is done in a moment."""
    if hasattr(config, "workerinput"):
        items.sort(key=lambda item: _place(item.path))


def _place(path: Path) -> int:
    name = path.relative_to(ROOT / "tests").as_posix()
    return next((number for number, each in enumerate(LONG) if name.startswith(each)), len(LONG))


def pytest_addoption(parser: pytest.Parser) -> None:
    """How far the searches of `test_worse.py` and `test_blanks.py` go (few requests in the checks), and what is only asked for."""
    parser.addoption("--requests", type=int, default=0, metavar="N", help="requests of each calculator (0: as few as the checks take)")
    parser.addoption("--first", type=int, default=0, metavar="SEED", help="the seed of the first of them (0)")
    parser.addoption("--record", action="store_true", help="keep what the calculators say now, for test_recorded.py to hold them to")


class Far(NamedTuple):
    """How many requests a search tries of each calculator, 0 for its own number, and the seed of the first."""

    requests: int
    first: int


@pytest.fixture(scope="session")
def far(request: pytest.FixtureRequest) -> Far:
    """What was asked for on the command line."""
    return Far(request.config.getoption("--requests"), request.config.getoption("--first"))


@pytest.fixture(scope="session")
def node() -> str:
    """The Node program: HANDBOOK_NODE, or the one on the PATH."""
    found = os.environ.get("HANDBOOK_NODE") or shutil.which("node")
    assert found, "Node 20+ is missing: install it or set HANDBOOK_NODE to the program"
    return found


@pytest.fixture(scope="session")
def pyodide_dir() -> Path:
    """The unpacked npm package pyodide."""
    folder = ROOT / "node_modules" / "pyodide"
    assert folder.is_dir(), f"{folder} is missing: run `npm ci --ignore-scripts` in {ROOT}"
    return folder


@pytest.fixture(scope="session")
def chromium() -> str:
    """The Chromium program: HANDBOOK_CHROMIUM, or the one on the PATH."""
    found = os.environ.get("HANDBOOK_CHROMIUM") or shutil.which("chromium")
    assert found, "Chromium is missing: install it or set HANDBOOK_CHROMIUM to the program"
    return found


@pytest.fixture(scope="session")
def runtime_cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A cache for packed runtimes that all tests of a run share: a pack takes seconds."""
    return tmp_path_factory.mktemp("runtime-cache")


@pytest.fixture(scope="session")
def site() -> Path:
    """The built handbook: HANDBOOK_SITE, or the folder `site` that a build leaves."""
    folder = Path(os.environ.get("HANDBOOK_SITE") or ROOT / "site")
    assert (folder / "sw.js").is_file(), (
        f"{folder} holds no finished handbook: build it first, or set HANDBOOK_SITE"
    )
    return folder


@pytest.fixture(scope="session")
def whole(site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built handbook as one file, made once, in a folder of its own."""
    from tools.editions import whole as edition

    path = tmp_path_factory.mktemp("one file") / edition.NAME
    path.write_bytes(edition.make(site))
    return path
