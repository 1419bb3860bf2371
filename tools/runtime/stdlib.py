"""The standard library as the browser gets it: what it may import, and what waits until asked for.

Pyodide imports modules while it starts of which a handbook uses a name or none. Those of PUT_OFF
stay whole under another name, ``inspect`` as ``_whole_inspect``; a few lines stand in their place
and fetch a name from there when somebody asks for it. Some stand-ins lie in ``without/`` and have
the names that are always wanted. Of ``html`` there is the stand-in alone.
"""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

from .errors import PackError
from .folders import read_tree

HERE = Path(__file__).parent
PUT_OFF = (
    "_pyodide._base",
    "_pyodide.jsbind",
    "inspect",
    "pyodide.code",
    "tokenize",
    "traceback",
    "typing",
)
STAND_IN = '''

def __getattr__(name):
    # Whoever imports asks for these of every module.
    if name in ("__path__", "__spec__", "__file__", "__all__"):
        raise AttributeError(name)
    {imported} as whole

    return getattr(whole, name)
'''


def modules() -> list[str]:
    """Return the modules to pack: those of library.txt, and those that were put off, whole."""
    text = (HERE / "library.txt").read_text(encoding="utf-8")
    return allowed_modules(text) + [".".join(_whole_name(name)).lstrip(".") for name in PUT_OFF]


def allowed_modules(text: str) -> list[str]:
    """Read library.txt: `module  # reason` a line; a missing reason is an error."""
    lines = [line for line in text.splitlines() if line and not line.startswith("#")]
    for line in lines:
        if not re.fullmatch(r"[\w.]+ +# \S.*", line):
            raise PackError(f"library.txt: {line!r} is not `module  # reason`")
    return [line.split()[0] for line in lines]


def whole(archive: Path) -> dict[str, bytes]:
    """Return Pyodide's standard library with the replacements of without/ and the stand-ins."""
    with zipfile.ZipFile(archive) as opened:
        names = [name for name in opened.namelist() if not name.endswith("/")]
        files = {name: opened.read(name) for name in names}
    ours = read_tree(HERE / "without")
    return files | ours | {path: data for name in PUT_OFF for path, data in put_off(name, files, ours)}


def put_off(name: str, files: dict[str, bytes], ours: dict[str, bytes]) -> list[tuple[str, bytes]]:
    """Return a module's two files: itself under another name, and what stands in its place."""
    base = name.replace(".", "/")
    path = next((path for path in (f"{base}.py", f"{base}/__init__.py") if path in files), "")
    if not path:
        raise PackError(f"the standard library has no module {name} to put off")
    package, kept = _whole_name(name)
    imported, place = f"import {kept}", f"{kept}.py"
    if package:
        imported, place = f"from {package} {imported}", f"{package}/{place}"
    fetch = STAND_IN.format(imported=imported)
    return [(place, files[path]), (path, ours.get(path, b"") + fetch.encode())]


def _whole_name(name: str) -> tuple[str, str]:
    package, _, last = name.rpartition(".")
    return package, f"_whole_{last}"
