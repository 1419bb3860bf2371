"""What each function of a wasm module speaks of: other functions, and numbers that may be addresses.

Core Specification 2.0, part 5.4 (instructions), with those of the proposals that Pyodide is compiled with: tail
calls and exceptions. An instruction that is not known here raises ValueError.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from .wasm import Reader

EMPTY = b"\x00\x00\x0b"  # no variables of its own; one instruction, which stops the program


@dataclass
class Function:
    """One function: its body, and what is said in it."""

    body: bytes = b""
    calls: set[int] = field(default_factory=set)
    pointers: set[int] = field(default_factory=set)
    globals: set[int] = field(default_factory=set)
    numbers: set[int] = field(default_factory=set)


Reads = Callable[[bytes, int, Function], int]


def functions(body: bytes) -> list[Function]:
    """Return the functions of a code section."""
    reader = Reader(body)
    return [_function(reader.take(reader.number())) for _ in range(reader.number())]


def _function(body: bytes) -> Function:
    found = Function(body)
    reader = Reader(body)
    for _ in range(reader.number()):  # its variables
        reader.number()
        reader.take(1)
    at, end = reader.at, len(body)
    while at < end:
        read = INSTRUCTIONS[body[at]]
        if read is None:
            raise ValueError(f"the instruction {body[at]:#x} is not known")
        at = read(body, at + 1, found)
    if at != end:
        raise ValueError("a function ends within an instruction")
    return found


def unsigned(data: bytes, at: int) -> tuple[int, int]:
    """Return the number that stands there, and where the next thing stands."""
    value = shift = 0
    while True:
        byte = data[at]
        at += 1
        value |= (byte & 0x7F) << shift
        shift += 7
        if byte < 0x80:
            return value, at


def signed(data: bytes, at: int) -> tuple[int, int]:
    """Return the signed number that stands there, and where the next thing stands."""
    value, end = unsigned(data, at)
    bits = 7 * (end - at)
    return (value - (1 << bits) if value >> (bits - 1) else value), end


# --- one reader a kind of instruction ------------------------------------------------


def _nothing(_data: bytes, at: int, _found: Function) -> int:
    return at


def _number(data: bytes, at: int, _found: Function) -> int:
    return unsigned(data, at)[1]


def _two(data: bytes, at: int, _found: Function) -> int:
    return unsigned(data, unsigned(data, at)[1])[1]


def _bytes(count: int) -> Reads:
    return lambda _data, at, _found: at + count


def _constant(data: bytes, at: int, found: Function) -> int:
    value, at = signed(data, at)
    found.numbers.add(value)
    return at


def _memory(data: bytes, at: int, found: Function) -> int:
    offset, at = unsigned(data, unsigned(data, at)[1])
    found.numbers.add(offset)
    return at


def _lane(data: bytes, at: int, found: Function) -> int:
    return _memory(data, at, found) + 1


def _call(data: bytes, at: int, found: Function) -> int:
    index, at = unsigned(data, at)
    found.calls.add(index)
    return at


def _pointer(data: bytes, at: int, found: Function) -> int:
    index, at = unsigned(data, at)
    found.pointers.add(index)
    return at


def _global(data: bytes, at: int, found: Function) -> int:
    index, at = unsigned(data, at)
    found.globals.add(index)
    return at


def _list(data: bytes, at: int, _found: Function) -> int:
    count, at = unsigned(data, at)
    for _ in range(count):
        at = unsigned(data, at)[1]
    return at


def _branches(data: bytes, at: int, found: Function) -> int:
    return unsigned(data, _list(data, at, found))[1]


def _more(table: dict[int, Reads], other: Reads | None) -> Reads:
    def read(data: bytes, at: int, found: Function) -> int:
        index, at = unsigned(data, at)
        chosen = table.get(index, other)
        if chosen is None:
            raise ValueError(f"the instruction {index} of a longer kind is not known")
        return chosen(data, at, found)

    return read


BULK: dict[int, Reads] = {
    **dict.fromkeys(range(8), _nothing),  # a float to a whole number
    **dict.fromkeys((8, 10, 12, 14), _two),
    **dict.fromkeys((9, 11, 13, 15, 16, 17), _number),
}
VECTORS: dict[int, Reads] = {
    **dict.fromkeys((*range(12), 92, 93), _memory),
    **dict.fromkeys((12, 13), _bytes(16)),
    **dict.fromkeys(range(21, 35), _bytes(1)),
    **dict.fromkeys(range(84, 92), _lane),
}
INSTRUCTIONS: list[Reads | None] = [None] * 256
for _codes, _read in (
    ((0x00, 0x01, 0x05, 0x0B, 0x0F, 0x19, 0x1A, 0x1B, 0xD1, *range(0x45, 0xC5)), _nothing),
    ((0x02, 0x03, 0x04, 0x06, 0x07, 0x08, 0x09, 0x0C, 0x0D, 0x18), _number),  # blocks and branches
    ((0x20, 0x21, 0x22, 0x25, 0x26, 0x3F, 0x40, 0xD0), _number),
    ((0x0E,), _branches),
    ((0x10, 0x12), _call),
    ((0x11, 0x13), _two),
    ((0x1C,), _list),
    ((0x23, 0x24), _global),
    (range(0x28, 0x3F), _memory),
    ((0x41, 0x42), _constant),
    ((0x43,), _bytes(4)),
    ((0x44,), _bytes(8)),
    ((0xD2,), _pointer),
    ((0xFC,), _more(BULK, None)),
    ((0xFD,), _more(VECTORS, _nothing)),
):
    for _code in _codes:
        INSTRUCTIONS[_code] = _read
