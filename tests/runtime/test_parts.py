"""tools/runtime/parts.py: which functions of a small module are reached, suspect ones and others."""

from tests.runtime.modules import call, const, function, module, words
from tools.runtime import wasm
from tools.runtime.code import EMPTY, functions
from tools.runtime.parts import Parts

NOTHING = function()
LONG = function(long=True)


def reached(bodies: list[bytes], table: list[int], suspects: set[int], data: bytes = b"\0" * 4, **more: int) -> set[int]:
    """What the first function, the only one that is exported, reaches."""
    return Parts(module(bodies, {"go": 1}, table, data, **more), suspects).reached([1])


def test_calls_are_followed():
    """From function to function, those of another module among them; one that nobody calls is not reached."""
    assert reached([function(call(2)), function(call(0)), NOTHING], [], set()) == {0, 1, 2}


def test_pointers_are_followed():
    """A place in the table said by a reached function, by data, or by a global that it reads."""
    read = function(b"\x23\x00")
    assert reached([function(const(2)), NOTHING, NOTHING], [2, 3], set()) == {1, 3}
    assert reached([NOTHING, NOTHING, NOTHING], [2, 3], set(), words(0, 2)) == {1, 3}
    assert reached([read, NOTHING, NOTHING], [2, 3], set(), first_global=2) == {1, 3}
    assert reached([function(b"\xd2\x03"), NOTHING, NOTHING], [], set()) == {1, 3}


def test_no_number_leads_to_a_long_suspect():
    """It is no other function's twin: the number only happens to be its place."""
    assert reached([function(const(1)), LONG], [2], {2}, words(1)) == {1}
    assert reached([function(const(1)), LONG], [2], set(), words(1)) == {1, 2}


def test_a_short_suspect_may_be_a_twin():
    """A number leads to it, and it to what it calls; not if it calls what only its part has."""
    assert reached([function(const(1)), function(call(3)), LONG], [2], {2}) == {1, 2, 3}
    assert reached([function(const(1)), function(call(3)), LONG], [2], {2, 3}) == {1}
    assert reached([function(const(1)), function(call(3)), NOTHING], [2], {2, 3}) == {1, 2, 3}


def test_a_suspect_that_is_called_stays_with_all_it_needs():
    """What it calls and what it points to, suspect or not."""
    bodies = [function(call(2)), function(call(3), const(1), long=True), LONG, LONG, LONG]
    assert reached(bodies, [4], {2, 3, 4, 5}) == {1, 2, 3, 4}


def test_a_twin_does_not_vouch_for_its_part():
    """The numbers that a suspect says count only if something calls it."""
    assert reached([function(const(1)), function(const(2)), LONG], [2, 3], {2, 3}) == {1, 2}


def test_what_is_not_reached_stops_the_program():
    """Its number stays its own; everything else keeps its bytes."""
    before = module([function(call(3)), LONG, NOTHING], {"go": 1}, [2], words(0))
    after = Parts(before, {2}).without([1])
    assert [each.body for each in functions(wasm.body(after, wasm.CODE))] == [function(call(3)), EMPTY, NOTHING]
    assert wasm.replaced(after, wasm.CODE, wasm.body(before, wasm.CODE)) == before
