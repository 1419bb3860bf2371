"""The modules that Python has built in, and how one is left out.

C keeps them in a table of names and of what makes them. What is not in it is not there to Python
(ModuleNotFoundError), and what only made it is taken out of the wasm (parts.py).
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from . import wasm
from .parts import Parts

MAKES = "PyInit_{}"
ENTRY = 8  # bytes: the address of a name, and a place in the table of pointers


def without_modules(
    module: bytes, names: Iterable[str], libraries: Iterable[tuple[str, str]], exports: Iterable[str]
) -> bytes:
    """Return Python's wasm without some of its modules.

    Args:
        module: the wasm, all its functions exported.
        names: the modules to leave out.
        libraries: the first function of each library that only they use, and the first after it.
        exports: the functions that will stay exported, with all that they need.
    """
    known = {name: index for name, (kind, index) in wasm.exports(module).items() if kind == wasm.FUNCTION}
    makers = {name: known[MAKES.format(name)] for name in names}
    memory = wasm.memory_of(module)
    base, table = wasm.pointers(module)
    entries = {_entry(memory, name, base + table.index(maker)) for name, maker in makers.items()}
    made = wasm.with_memory(module, without_entries(memory, entries))
    suspects = _suspects(known, set(makers.values()), libraries)
    return Parts(made, suspects).without(known[name] for name in exports if name in known)


def _entry(memory: bytes, name: str, maker: int) -> int:
    words = memoryview(memory)[: len(memory) // 4 * 4].cast("I")
    after = (index for index, value in enumerate(words) if value == maker and index)
    text = name.encode() + b"\0"
    found = [4 * index - 4 for index in after if memory.startswith(text, words[index - 1])]
    if len(found) != 1:
        raise ValueError(f"the entry of the module {name} was expected once, found {len(found)} times")
    return found[0]


def without_entries(memory: bytes, entries: set[int]) -> bytes:
    """Return the memory without these entries of the table; what stands behind them moves up."""
    start = end = min(entries)
    while any(memory[end : end + ENTRY]):
        end += ENTRY
    if end <= max(entries):
        raise ValueError("the modules do not stand in one table")
    kept = (memory[at : at + ENTRY] for at in range(start, end, ENTRY) if at not in entries)
    return memory[:start] + b"".join(kept).ljust(end - start, b"\0") + memory[end:]


def _suspects(known: dict[str, int], makers: set[int], libraries: Iterable[tuple[str, str]]) -> set[int]:
    """Return the functions of what is left out: from what makes a module to the next function with a name."""
    ranges = [(start, end) for start, end in pairwise(sorted(set(known.values()))) if start in makers]
    ranges += [(known[first], known[after]) for first, after in libraries]
    return {index for start, end in ranges for index in range(start, end)}
