"""Finished pages kept from build to build: a page is finished again only where the site generator wrote another."""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, field
from pathlib import Path

from tools import colours, sealed

HERE = Path(__file__).parent


@dataclass
class Finished:
    """A page as the reader gets it.

    ``addresses`` are the files it refers to, ``faults`` (place, what, mend) what its policy would refuse, ``words``
    what of the theme's style sheets it names.
    """

    text: str
    addresses: list[str] = field(default_factory=list)
    faults: list[tuple[str, str, str]] = field(default_factory=list)
    words: list[str] = field(default_factory=list)


class Keep:
    """Finished pages in a folder, none where that is None."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder
        self._mark = _code()
        self._used: set[Path] = set()

    def page(self, written: str, how: str, finish: Callable[[str], Finished]) -> Finished:
        """The finished page of what was written, kept or fresh; ``how`` is all else that it rests on."""
        if self.folder is None:
            return finish(written)
        path = self.folder / hashlib.sha256(f"{self._mark}\0{how}\0{written}".encode()).hexdigest()
        self._used.add(path)
        with contextlib.suppress(OSError, ValueError):
            return Finished(**json.loads(sealed.read(path)))
        made = finish(written)
        if not made.faults:
            with contextlib.suppress(OSError):  # no room: the page is finished all the same
                sealed.write(path, json.dumps(asdict(made)).encode())
        return made

    def made(self, what: str, make: Callable[[], bytes]) -> bytes:
        """The bytes that ``make`` gives, kept or fresh; ``what`` is all that they rest on beside our code."""
        if self.folder is None:
            return make()
        path = self.folder / hashlib.sha256(f"{self._mark}\0{what}".encode()).hexdigest()
        self._used.add(path)
        with contextlib.suppress(OSError, ValueError):
            return sealed.read(path)
        found = make()
        with contextlib.suppress(OSError):
            sealed.write(path, found)
        return found

    def forget_unused(self) -> None:
        """Drop what no page of this build asked for."""
        if self.folder is not None:
            sealed.forget(self.folder, self._used)


def _code() -> str:
    """The hash of all that finishes a page."""
    found = [Path(colours.__file__), *(path for path in sorted(HERE.iterdir()) if path.suffix in (".py", ".js"))]
    return hashlib.sha256(b"".join(hashlib.sha256(path.read_bytes()).digest() for path in found)).hexdigest()
