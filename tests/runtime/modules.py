"""Small wasm modules with functions, a table of pointers, globals and data, put together for tests."""

from __future__ import annotations

from tools.runtime import wasm
from tools.runtime.wasm import Section, number

DATA_AT = 1024


def const(value: int) -> bytes:
    """The instruction that says a number of up to 2^27, told as signed."""
    return b"\x41" + bytes((value & 0x7F | 0x80, value >> 7 & 0x7F | 0x80, value >> 14 & 0x7F | 0x80, value >> 21))


def call(index: int) -> bytes:
    """The instruction that calls a function."""
    return b"\x10" + number(index)


def function(*instructions: bytes, long: bool = False) -> bytes:
    """The body of a function; a long one has much that does nothing."""
    return b"\x00" + b"".join(instructions) + (b"\x01" * 300 if long else b"") + b"\x0b"


def module(
    bodies: list[bytes], exports: dict[str, int], table: list[int], data: bytes, first_global: int = 0
) -> bytes:
    """A module that imports one function, number 0; its table of pointers begins at 1, its data at DATA_AT."""
    named = b"".join(wasm.name(text) + b"\x00" + number(index) for text, index in exports.items())
    listed = b"".join(map(number, table))
    coded = b"".join(number(len(each)) + each for each in bodies)
    return wasm.joined([
        Section(1, b"\x01\x60\x00\x00"),
        Section(wasm.IMPORT, b"\x01\x03env\x03say\x00\x00"),
        Section(3, number(len(bodies)) + bytes(len(bodies))),
        Section(wasm.GLOBAL, b"\x01\x7f\x00" + const(first_global) + b"\x0b"),
        Section(wasm.EXPORT, number(len(exports)) + named),
        Section(wasm.ELEMENT, b"\x01\x00" + const(1) + b"\x0b" + number(len(table)) + listed),
        Section(wasm.CODE, number(len(bodies)) + coded),
        Section(wasm.DATA, b"\x01\x00" + const(DATA_AT) + b"\x0b" + number(len(data)) + data),
    ])  # fmt: skip


def words(*values: int) -> bytes:
    """Numbers as they lie in memory."""
    return b"".join(value.to_bytes(4, "little") for value in values)
