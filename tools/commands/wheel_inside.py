"""The part of `wheel` that runs inside Pyodide, with pyodide-build in /pack/tools."""

import json
import os
import sys
from pathlib import Path

DIST = Path("/pack/dist")
LOCK = DIST / "pyodide-lock.json"


def main(job_json):
    """Add the wheel in /pack/dist to a lock of nothing else, compile both; name them all."""
    job = json.loads(job_json)
    sys.path.insert(0, "/pack/tools")
    # Fixes the times in the zip, and has the bytecode refer to a hash instead of a time.
    os.environ["SOURCE_DATE_EPOCH"] = job["epoch"]
    LOCK.write_text(json.dumps({"info": job["info"], "packages": {}}))
    add_entry(next(DIST.glob("*.whl")))
    compile_wheels()
    return json.dumps(
        {"name": package_name(), "files": sorted(path.name for path in DIST.iterdir())}
    )


def add_entry(wheel):
    """Run `pyodide lockfile add-wheels`."""
    from pyodide_lock.cli import main as lockfile

    arguments = ["add-wheels", "--input", str(LOCK), "--output", str(LOCK), str(wheel)]
    lockfile(arguments, standalone_mode=False)


def compile_wheels():
    """Run `pyodide py-compile`, which keeps the lock in step with the new name and hash."""
    from pyodide_build.cli.py_compile import main as py_compile

    py_compile(["--keep", "--silent", str(DIST)], standalone_mode=False)


def package_name():
    """Return the name that the lock knows the wheel by."""
    return next(iter(json.loads(LOCK.read_text())["packages"]))
