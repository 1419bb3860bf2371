"""Reads and writes the sections of a WebAssembly module, as far as cutting one down needs it.

Core Specification 2.0, part 5 (binary format). What is not understood raises ValueError: nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import dataclass

HEAD = b"\0asm\1\0\0\0"
IMPORT, GLOBAL, EXPORT, ELEMENT, CODE, DATA = 2, 6, 7, 9, 10, 11
FUNCTION = 0  # a kind of import and export
I32_CONST, END = 0x41, 0x0B


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

    def signed(self) -> int:
        """A signed number."""
        start, value = self.at, self.number()
        bits = 7 * (self.at - start)
        return value - (1 << bits) if value >> (bits - 1) else value

    def place(self) -> int:
        """A place in a memory or table, given as one number."""
        if self.take(1)[0] != I32_CONST:
            raise ValueError("a place is given by something else than a number")
        value = self.signed()
        self.take(1)
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


@dataclass(frozen=True)
class Segment:
    """What stands in memory from the start: where, and the bytes as they lie in the module."""

    head: bytes
    start: int
    data: bytes


def segments(module: bytes) -> list[Segment]:
    """Return the segments of a module's data."""
    reader = Reader(body(module, DATA))
    return [_segment(reader) for _ in range(reader.number())]


def _segment(reader: Reader) -> Segment:
    at = reader.at
    if reader.number():
        raise ValueError("a segment of data has no place of its own")
    start = reader.place()
    head = reader.data[at : reader.at]
    return Segment(head, start, reader.take(reader.number()))


def with_memory(module: bytes, memory: bytes) -> bytes:
    """Return the module whose data make this memory; ValueError where something stands between its segments."""
    found = segments(module)
    parts = [
        each.head + number(len(each.data)) + memory[each.start : each.start + len(each.data)] for each in found
    ]
    made = replaced(module, DATA, number(len(found)) + b"".join(parts))
    if memory_of(made) != memory:
        raise ValueError("the data stand where the module has none")
    return made


def memory_of(module: bytes) -> bytes:
    """Return what the data of a module make of an empty memory, up to their end."""
    found = segments(module)
    memory = bytearray(max(each.start + len(each.data) for each in found))
    for each in found:
        memory[each.start : each.start + len(each.data)] = each.data
    return bytes(memory)


def pointers(module: bytes) -> tuple[int, list[int]]:
    """Return the first place of the one table of pointers, and the functions from there on."""
    reader = Reader(body(module, ELEMENT))
    if (reader.number(), reader.number()) != (1, 0):
        raise ValueError("there is more than one list of pointers")
    return reader.place(), [reader.number() for _ in range(reader.number())]


def numbers_of_globals(module: bytes) -> list[int | None]:
    """Return what each of the module's own globals begins with; None for what is no number of 32 bits."""
    reader = Reader(body(module, GLOBAL))
    return [_global(reader) for _ in range(reader.number())]


def _global(reader: Reader) -> int | None:
    reader.take(2)
    kind = reader.take(1)[0]
    value = reader.signed()
    if reader.take(1)[0] != END:
        raise ValueError("a global begins with more than one number")
    return value if kind == I32_CONST else None


def with_bodies(module: bytes, bodies: list[bytes]) -> bytes:
    """Return the module with other bodies of its functions."""
    return replaced(module, CODE, number(len(bodies)) + b"".join(number(len(each)) + each for each in bodies))
