"""Reads and writes the sections of a WebAssembly module, as far as cutting one down needs it.

Core Specification 2.0, part 5 (binary format). What is not understood raises ValueError: nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import dataclass

HEAD = b"\0asm\1\0\0\0"
IMPORT, EXPORT, ELEMENT = 2, 7, 9
FUNCTION = 0  # a kind of import and export


@dataclass(frozen=True)
class Section:
    """One section: its number, and what is in it."""

    kind: int
    body: bytes


class Reader:
    """Takes numbers, bytes and names off some bytes, from front to back."""

    def __init__(self, data: bytes, at: int = 0) -> None:
        self.data, self.at = data, at

    @property
    def ended(self) -> bool:
        """Whether all was read."""
        return self.at == len(self.data)

    def take(self, count: int) -> bytes:
        """The next `count` bytes."""
        taken = self.data[self.at : self.at + count]
        if len(taken) != count:
            raise ValueError("the module ends too early")
        self.at += count
        return taken

    def number(self) -> int:
        """An unsigned number (LEB128)."""
        value = shift = 0
        while True:
            byte = self.take(1)[0]
            value |= (byte & 0x7F) << shift
            shift += 7
            if byte < 0x80:
                return value

    def name(self) -> str:
        """A name with its length before it."""
        return self.take(self.number()).decode()


def number(value: int) -> bytes:
    """Return an unsigned number as LEB128.

    >>> number(624485).hex()
    'e58e26'
    """
    low, rest = value & 0x7F, value >> 7
    return bytes((low | 0x80,)) + number(rest) if rest else bytes((low,))


def name(text: str) -> bytes:
    """Return a name with its length before it."""
    return number(len(text.encode())) + text.encode()


def sections(module: bytes) -> list[Section]:
    """Return a module's sections in their order."""
    if module[:8] != HEAD:
        raise ValueError("this is no WebAssembly module of version 1")
    reader, found = Reader(module, 8), []
    while not reader.ended:
        kind = reader.take(1)[0]
        found.append(Section(kind, reader.take(reader.number())))
    return found


def joined(parts: Iterable[Section]) -> bytes:
    """Return the module of these sections."""
    return HEAD + b"".join(bytes((each.kind,)) + number(len(each.body)) + each.body for each in parts)


def body(module: bytes, kind: int) -> bytes:
    """Return what is in the one section of this kind."""
    found = [each.body for each in sections(module) if each.kind == kind]
    if len(found) != 1:
        raise ValueError(f"the module has {len(found)} sections of kind {kind}")
    return found[0]


def replaced(module: bytes, kind: int, new: bytes) -> bytes:
    """Return the module with another content of the one section of this kind."""
    body(module, kind)
    return joined(Section(kind, new) if each.kind == kind else each for each in sections(module))


def exports(module: bytes) -> dict[str, tuple[int, int]]:
    """Return {name: (kind, index)} of all that a module exports."""
    reader = Reader(body(module, EXPORT))
    return {reader.name(): (reader.take(1)[0], reader.number()) for _ in range(reader.number())}


def with_exports(module: bytes, kept: Container[str]) -> bytes:
    """Return the module with no other exports than the kept ones."""
    left = [(text, *what) for text, what in exports(module).items() if text in kept]
    entries = (name(text) + bytes((kind,)) + number(index) for text, kind, index in left)
    return replaced(module, EXPORT, number(len(left)) + b"".join(entries))


def imports(module: bytes) -> list[tuple[str, str, int]]:
    """Return (module, name, kind) of all that a module imports, in order."""
    reader = Reader(body(module, IMPORT))
    return [_import(reader) for _ in range(reader.number())]


def _import(reader: Reader) -> tuple[str, str, int]:
    place, text, kind = reader.name(), reader.name(), reader.take(1)[0]
    if kind == FUNCTION:
        reader.number()
    elif kind in (1, 2):  # a table, a memory
        reader.take(2 - kind)
        _limits(reader)
    elif kind == 3:  # a global
        reader.take(2)
    elif kind == 4:  # a tag
        reader.take(1)
        reader.number()
    else:
        raise ValueError(f"{text} is an import of the unknown kind {kind}")
    return place, text, kind


def _limits(reader: Reader) -> None:
    upper = reader.take(1)[0]
    reader.number()
    if upper & 1:
        reader.number()
