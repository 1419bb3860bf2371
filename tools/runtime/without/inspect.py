"""In place of inspect: Pyodide asks whether a function is a coroutine's, while it starts."""

_COROUTINE = 0x80


def iscoroutinefunction(obj):
    """Tell it by the flags of its code."""
    return bool(getattr(getattr(obj, "__code__", None), "co_flags", 0) & _COROUTINE)
