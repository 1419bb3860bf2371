"""In place of the terminal colours of tracebacks: a handbook has no terminal.

The original builds a dozen dataclasses, which takes longer than everything else
that traceback needs.
"""


class _Plain(str):
    """The empty string, which is also each of its own parts."""

    __slots__ = ()

    def __getattr__(self, name: str) -> "_Plain":
        return self


_PLAIN = _Plain()


def can_colorize(*, file: object = None) -> bool:
    """Never."""
    return False


def get_theme(**kwargs: object) -> _Plain:
    """Return a theme whose every section and colour is empty."""
    return _PLAIN


def get_colors(*args: object, **kwargs: object) -> _Plain:
    """Return colours that are all empty."""
    return _PLAIN
