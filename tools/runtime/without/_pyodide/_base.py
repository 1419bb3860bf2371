"""In place of what evaluates code for the page: the whole of it parses it twice and more."""

from importlib import import_module


def eval_code(source, globals=None, *args, **kwargs):  # noqa: A002 - as Pyodide calls it
    """Return the value of one line, "statement; statement; expression": all that the start asks.

    Anything more goes to the whole.
    """
    if "\n" in source or args or kwargs:
        from _pyodide import _whole__base

        return _whole__base.eval_code(source, globals, *args, **kwargs)
    *before, last = source.rsplit(";", 1)
    exec("".join(before), globals)  # noqa: S102 - written by Pyodide itself
    return eval(last.strip(), globals)  # noqa: S307


def pyimport_impl(path):
    """Return a module, or what a module holds, by its dotted name."""
    home, _, name = path.rpartition(".")
    if home and hasattr(module := import_module(home), name):
        return getattr(module, name)
    return import_module(path)
