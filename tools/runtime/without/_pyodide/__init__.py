"""In place of Pyodide's own: without what prints a traceback to a terminal."""

from . import _base, _importhook

__all__ = ["_base", "_importhook"]


def set_excepthook() -> None:
    """Called at the end of the start; an error reaches the page as the message of its own."""
