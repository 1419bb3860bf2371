"""What runs inside Pyodide, under Node, while the handbook is built.

`pack.mjs` starts Pyodide, shows the builder's work folder as /work and calls
`main` with a job as JSON. This file imports as little as it can: what it pulls
in would count as "observed" and end up in every reader's browser.
"""

import importlib
import importlib.util
import json
import os
import sys
from importlib._bootstrap_external import _code_to_hash_pyc

WORK = "/pack/"
# Where the library lies in the browser; tracebacks show this path.
LIBRARY = f"/lib/python{sys.version_info.major}{sys.version_info.minor}.zip/"


def main(job_json):
    """Do one job ({"do": name, ...}) and return its answer, both as JSON."""
    job = json.loads(job_json)
    jobs = {"library": trim_library, "check": import_all, "package": compile_package}
    return json.dumps(jobs[job.pop("do")](**job))


def trim_library(modules):
    """Compile every library module loaded once `modules` are; list the files."""
    import_all(modules)
    return [compile_module(spec) for spec in loaded_from_library()]


def import_all(modules):
    """Import each module and return Python's version; report all that fail at once."""
    failed = []
    for name in modules:
        try:
            importlib.import_module(name)
        except Exception as error:  # noqa: BLE001 - whatever it is, name the module
            failed.append(f"{name}: {type(error).__name__}: {error}")
    if failed:
        failed.append("a module of the standard library has to be named in library.txt")
        raise ImportError("cannot import in the packed Python:\n  " + "\n  ".join(failed))
    return sys.version.split()[0]


def loaded_from_library():
    """Return the specs of the loaded modules that came out of the library zip."""
    specs = [getattr(module, "__spec__", None) for module in sys.modules.values()]
    found = {s.origin: s for s in specs if s and str(s.origin).startswith(LIBRARY)}
    return [found[origin] for origin in sorted(found)]


def compile_module(spec):
    """Write one library module's bytecode; return its path in the zip."""
    path = spec.origin.removeprefix(LIBRARY)
    # Level 2 drops docstrings: nobody calls help() in a handbook.
    return write_bytecode(spec.loader.get_data(spec.origin), path, spec.origin, 2)


def compile_package(files, seen_in):
    """Import our own `files` under /pack/source, then compile them as lying in a zip.

    Importing first finds a module that the trimmed library lacks at build time,
    not in a reader's hand.
    """
    sys.path.append(WORK + "source")
    import_all([module_name(path) for path in files])
    return [compile_file(path, f"{seen_in}/{path}") for path in files]


def module_name(path):
    """Turn pack/age/__init__.py into pack.age."""
    return path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def compile_file(path, seen_as):
    """Write the bytecode of one file of ours, keeping asserts but no docstrings."""
    with open(f"{WORK}source/{path}", "rb") as file:
        return write_bytecode(file.read(), path, seen_as, 0)


def without_docstrings(source):
    """Return the syntax tree of a source, its docstrings made as short as they may be."""
    import ast

    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.FunctionDef, ast.ClassDef)) and ast.get_docstring(node):
            # Not dropped: a dataclass without one would write its own, and take its time.
            node.body[0].value.value = "." if isinstance(node, ast.ClassDef) else ""
    return tree


def one_line(code):
    """Return code whose every instruction is in the line at which its function begins.

    Tables of lines are a seventh of what a reader's browser unpacks. A traceback still names file and function; what
    broke there breaks in the same way, with all lines, where `calc` is given the same request.
    """
    inner = tuple(one_line(each) if isinstance(each, type(code)) else each for each in code.co_consts)
    whole, rest = divmod(len(code.co_code) // 2, 8)
    # An entry without columns: how many instructions (eight at most), then by how many lines it lies further on.
    table = bytes((0xEF, 0)) * whole + (bytes((0xE8 + rest - 1, 0)) if rest else b"")
    return code.replace(co_linetable=table, co_consts=inner)


def write_bytecode(source, path, seen_as, level):
    """Write /pack/out/PATHc, never checked against its source (which is not packed)."""
    tree = source if level else without_docstrings(source)
    code = one_line(compile(tree, seen_as, "exec", dont_inherit=True, optimize=level))
    target = f"{WORK}out/{path}c"
    os.makedirs(os.path.dirname(target), exist_ok=True)
    with open(target, "wb") as file:
        file.write(_code_to_hash_pyc(code, importlib.util.source_hash(source), checked=False))
    return path + "c"
