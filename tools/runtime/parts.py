"""Takes whole parts out of a wasm module: functions that only they use.

Nothing in a linked module says what belongs together. What nothing reaches is found by following calls and
pointers from the exports and from the data. A number may be a place in the table of pointers or just a
number: taken for a place each time, it would keep nearly everything. So some functions are told to be
suspect (those of a part, by where they stand), and of these alone it is supposed:

* One that others call stays, with all that it calls and points to.
* A pointer from elsewhere to one of them is believed only where it may be the same as a function of
  another part, made one by the compiler: it is short, and calls nothing of its own part.

All other functions stay as long as any number anywhere may mean them. A function that went wrongly would stop
the program at once and never answer something else: it is left as one instruction that does so. Data stay as
they are, since nothing says where one thing ends in them and the next begins.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property

from . import wasm
from .code import EMPTY, Function, functions

SHORT = 256  # bytes of a function that may well be there twice
GLOBAL = 3  # a kind of import


class Parts:
    """A module, what is suspect in it, and what is left of it."""

    def __init__(self, module: bytes, suspects: Iterable[int]) -> None:
        """Read a module; `suspects` are the numbers of functions."""
        self.module, self.suspects = module, frozenset(suspects)
        kinds = [kind for _, _, kind in wasm.imports(module)]
        self.imported, self.first_global = kinds.count(wasm.FUNCTION), kinds.count(GLOBAL)
        self.functions = functions(wasm.body(module, wasm.CODE))
        self.globals = wasm.numbers_of_globals(module)
        self.base, self.table = wasm.pointers(module)

    def without(self, exports: Iterable[int]) -> bytes:
        """Return the module whose functions that these exported ones do not reach are empty."""
        live = self.reached(exports)
        whole = enumerate(self.functions, self.imported)
        return wasm.with_bodies(self.module, [each.body if index in live else EMPTY for index, each in whole])

    def reached(self, exports: Iterable[int]) -> set[int]:
        """Return the numbers of the functions that are reached."""
        live: set[int] = set()
        certain: set[int] = set()
        waiting = [*((index, True) for index in exports), *((index, False) for index in self._from_data())]
        while waiting:
            index, sure = waiting.pop()
            sure = sure or index not in self.suspects
            if index in (certain if sure else live):
                continue
            live.add(index)
            if sure:
                certain.add(index)
            waiting += self._next(index, sure)
        return live

    @cached_property
    def shared(self) -> set[int]:
        """The suspects that may be the same as a function of another part."""
        found: set[int] = set()
        while more := {index for index in self.suspects - found if self._may_be_shared(index, found)}:
            found |= more
        return found

    def _may_be_shared(self, index: int, found: set[int]) -> bool:
        function = self._function(index)
        own = function.calls & self.suspects
        return len(function.body) <= SHORT and own <= found

    def _function(self, index: int) -> Function:
        # One of another module says nothing.
        return self.functions[index - self.imported] if index >= self.imported else Function()

    def _pointed(self, number: int) -> int | None:
        place = number - self.base
        return self.table[place] if 0 <= place < len(self.table) else None

    def _from_data(self) -> set[int]:
        memory = wasm.memory_of(self.module)
        words = set(memoryview(memory)[: len(memory) // 4 * 4].cast("I"))
        found = {self._pointed(word) for word in words}
        return {index for index in found if index is not None and self._believed(index)}

    def _believed(self, index: int) -> bool:
        return index not in self.suspects or index in self.shared

    def _next(self, index: int, sure: bool) -> Iterator[tuple[int, bool]]:
        """Yield what a function leads to, and whether as surely as the function itself."""
        function = self._function(index)
        for other in function.calls | function.pointers:
            yield other, sure
        own = sure and index in self.suspects
        for number in self._numbers(function):
            pointed = self._pointed(number)
            if pointed is not None and (own or self._believed(pointed)):
                yield pointed, own

    def _numbers(self, function: Function) -> Iterator[int]:
        yield from function.numbers
        for index in function.globals:
            value = self.globals[index - self.first_global] if index >= self.first_global else None
            if value is not None:
                yield value
