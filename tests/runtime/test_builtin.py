"""tools/runtime/builtin.py: a module out of a small table of modules, with the functions that only it has."""

import pytest

from tests.runtime.modules import DATA_AT, const, function, module, words
from tools.runtime import builtin, wasm
from tools.runtime.code import EMPTY, functions

LONG = function(long=True)
# Three modules: what makes them, and a function of each that stands after it. Then a library of "b", and its end.
BODIES = [
    function(const(2)), LONG,
    function(const(4)), LONG,
    function(const(6)), LONG,
    LONG, LONG,
]  # fmt: skip
EXPORTS = {"PyInit_a": 1, "PyInit_b": 3, "PyInit_c": 5, "lib_first": 7, "end": 8}
TABLE = [1, 2, 3, 4, 5, 6, 7]
NAMES = DATA_AT + 40
TEXT = b"a\0b\0c\0"
ENTRIES = [(NAMES, 1), (NAMES + 2, 3), (NAMES + 4, 5)]


def data(*entries: tuple[int, int]) -> bytes:
    """A word that is nothing, the table of modules with its end, and the names."""
    table = words(0, *(word for entry in entries for word in entry))
    return table.ljust(NAMES - DATA_AT, b"\0") + TEXT


def without(names: list[str], entries: list[tuple[int, int]] = ENTRIES) -> bytes:
    """The module without these modules of Python."""
    whole = module(BODIES, EXPORTS, TABLE, data(*entries))
    return builtin.without_modules(whole, names, [("lib_first", "end")], ["end"])


def test_a_module_goes_with_its_functions():
    """Its entry, what made it, what stood after that, and its library; the others stay as they were."""
    made = without(["b"])
    assert wasm.memory_of(made)[DATA_AT:] == data(ENTRIES[0], ENTRIES[2])
    kept = [each.body != EMPTY for each in functions(wasm.body(made, wasm.CODE))]
    assert kept == [True, True, False, False, True, True, False, True]


def test_the_first_and_the_last_may_go():
    """The table begins and ends elsewhere then."""
    assert wasm.memory_of(without(["a", "c"]))[DATA_AT:] == data(ENTRIES[1])


@pytest.mark.parametrize(
    ("names", "entries", "message"),
    [
        (["b"], [ENTRIES[0], ENTRIES[2]], "b was expected once, found 0 times"),
        (["b"], [*ENTRIES, ENTRIES[1]], "b was expected once, found 2 times"),
        (["a", "c"], [ENTRIES[0], (0, 0), ENTRIES[2]], "not stand in one table"),
    ],
)
def test_a_table_that_is_not_understood_is_refused(names, entries, message):
    """An entry that is not there, or twice; a gap."""
    with pytest.raises(ValueError, match=message):
        without(names, entries)


def test_data_must_have_a_place():
    """What would be written between two segments would be lost."""
    whole = module(BODIES, EXPORTS, TABLE, data(*ENTRIES))
    with pytest.raises(ValueError, match="the module has none"):
        wasm.with_memory(whole, b"\1" + wasm.memory_of(whole)[1:])
