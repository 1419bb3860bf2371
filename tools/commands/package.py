"""`package`: pack the whole tool as a wheel, so that an operator needs Python alone.

The wheel holds one package, `operator_handbook`: the house as it stands in the clone, without what only a clone can
use, the packed Python beside it, and the command `handbook`, which runs the house. It asks for the packages of
tools/locks/build.txt, each in its locked version. Beside it lies the same list with hashes, for pip's `--requirement`.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import re
import shutil
import tempfile
import tomllib
from fnmatch import fnmatchcase
from pathlib import Path

from tools import licenses

from . import house, packing, wheels
from .house import ROOT
from .progress import Progress

NAME = "operator_handbook"
DISTRIBUTION = "operator-handbook"
HOUSE = ("calculators", "docs", "tools", "mkdocs.yml", "LICENSE")
# Of the clone alone. What the browser's Python was packed with stays: it changes parts of Pyodide, whose license
# asks that the changes go along.
LEFT_OUT = {
    "docs": ("data", "assets/readme.png"),
    "tools": (
        "drawings", "fuzzing", "locks", "mutation",
        *(f"commands/{name}.py" for name in (
            "bench*", "environment", "fuzz", "inside_page", "mutate", "node", "package*", "packing", "planning",
            "test", "wheel*",
        )),
    ),
}  # fmt: skip
# A file of the packed Python: its notices are the wheel's.
RUNTIME = "python-wasm-0.js"
LOCK = ROOT / "tools" / "locks" / "build.txt"
PROJECT = """[build-system]
requires = ["setuptools"]
build-backend = "setuptools.build_meta"

[project]
name = "{project}"
version = "{version}"
description = "Makes an operator's own handbook from their own data, with calculators that run in its pages"
license = "{license}"
license-files = ["licenses/*.txt"]
classifiers = ["Private :: Do Not Upload"]
requires-python = ">=3.11"
dependencies = {dependencies}
scripts = {{ handbook = "{name}.__main__:main" }}

[tool.setuptools]
packages = ["{name}"]
package-data = {{ {name} = ["**/*"] }}
"""
HEAD = """# The operator's handbook {version} and all it needs, each file checked against its hash:
#   python3 -m pip install --requirement {file}
--only-binary :all:
--find-links .
{project}=={version} --hash=sha256:{digest}
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Where to put it."""
    parser.add_argument("--out", type=Path, default=ROOT / "dist", help="default: dist")


def main(args: argparse.Namespace) -> int:
    """Make the wheel and the list of what it needs, and say how to install it."""
    progress = Progress(3)
    progress.step("Getting the Python for the browser")
    python = packing.python(progress.note)
    progress.step("Looking for setuptools")
    wheels.ensure_tools(progress.note)
    progress.step("Building the wheel")
    with tempfile.TemporaryDirectory() as folder:
        source, built = Path(folder, "source"), Path(folder, "dist")
        lay_out(source, python)
        wheels.build(source, built)
        wheel = publish(next(built.glob("*.whl")), args.out)
    progress.finish(f"Made {wheel} ({wheel.stat().st_size / 1e6:.1f} MB)")
    print(f"Install it: python3 -m pip install --requirement {write_list(wheel)}")
    return 0


def lay_out(source: Path, python: house.Python) -> None:
    """Write the project that setuptools packs."""
    inside = source / NAME
    for name in HOUSE:
        wheels.copy(ROOT / name, inside / "house" / name, *LEFT_OUT.get(name, ()))
    wheels.copy(Path(__file__).with_name("package_entry.py"), inside / "__main__.py")
    (inside / "__init__.py").write_text('"""An operator\'s handbook, made from their own data."""\n', encoding="utf-8")
    packed = inside / "house" / house.PACKED.name
    python.put(packed)
    (packed / house.BUILD_ID).write_text(python.build_id, encoding="utf-8")
    for name, text in licenses.texts().items():
        (source / licenses.FOLDER).mkdir(exist_ok=True)
        (source / name).write_text(text, encoding="utf-8")
    (source / "pyproject.toml").write_text(project(), encoding="utf-8")


def project() -> str:
    """What setuptools is told."""
    needed = json.dumps(requirements(LOCK.read_text(encoding="utf-8")), indent=1)
    return PROJECT.format(name=NAME, project=DISTRIBUTION, version=version(), dependencies=needed, license=license_of())


def license_of() -> str:
    """The licenses of what the wheel holds: ours, and those of the packed Python."""
    script = f"assets/runtime/{RUNTIME}"
    here = [each for each in licenses.notices() if any(fnmatchcase(script, name) for name in each.files)]
    found = {part for each in here for part in each.license.split(" AND ")}
    return " AND ".join(f"({each})" if " OR " in each else each for each in sorted(found))


def version() -> str:
    """The version that pyproject.toml gives the calculators: they are one."""
    told: str = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    return told


def requirements(lock: str) -> list[str]:
    """Each package of a lock in its version, for the Pythons that it is for: `name==1.0 ; marker`."""
    return [line.removesuffix("\\").strip() for line in re.findall(r"^[\w.-]+==.*$", lock, re.MULTILINE)]


def publish(built: Path, out: Path) -> Path:
    """Put the wheel into `out`, in place of an older one; return where it lies."""
    out.mkdir(parents=True, exist_ok=True)
    for old in out.glob(f"{NAME}-*"):
        old.unlink()
    return Path(shutil.copy(built, out))


def write_list(wheel: Path) -> Path:
    """Write the lock and the wheel itself, with hashes, beside the wheel.

    A list of requirements and not of constraints: older versions of pip take no hashes from constraints.
    """
    target = wheel.with_name(f"{NAME}-{version()}.txt")
    digest = hashlib.sha256(wheel.read_bytes()).hexdigest()
    head = HEAD.format(version=version(), file=target.name, project=DISTRIBUTION, digest=digest)
    target.write_text(head + LOCK.read_text(encoding="utf-8"), encoding="utf-8", newline="\n")
    return target
