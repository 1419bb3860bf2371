"""tools/runtime/code.py: what a function of a wasm module speaks of."""

import pytest

from tools.runtime import wasm
from tools.runtime.code import EMPTY, functions

# One variable of 32 bits; then an instruction of each kind, some with bytes that would be others if misread.
BODY = bytes.fromhex(
    "01 01 7f"  # one variable, i32
    "02 40 03 40 0c 00 0b 0b"  # blocks and a branch
    "20 10"  # local.get 16: as an instruction of its own, 10 would call
    "0e 02 10 12 10"  # br_table
    "10 85 02"  # call 261
    "11 10 00"  # call_indirect
    "23 07 24 08"  # global.get 7, global.set 8
    "28 02 90 08"  # i32.load at 1040
    "41 7f 41 80 80 04"  # the constants -1 and 65536
    "42 e4 00"  # the constant 100, of 64 bits
    "43 10 10 10 10 44 10 10 10 10 10 10 10 10"  # of floats
    "1c 01 7f d0 70 d2 09"  # select, ref.null, ref.func 9
    "fc 0a 00 00 fc 0b 00"  # memory.copy, memory.fill
    "fd 00 04 20 fd 0c" + "10" * 16 + "fd 15 01 fd 54 00 30 01 fd 6e"  # vectors
    "00 0b"
)


def section(*bodies: bytes) -> bytes:
    """What is in a code section."""
    return wasm.number(len(bodies)) + b"".join(wasm.number(len(each)) + each for each in bodies)


def test_what_is_said_is_found():
    """Calls, pointers, globals and numbers, and not one that is part of something else."""
    found = functions(section(BODY, EMPTY))
    assert [each.body for each in found] == [BODY, EMPTY]
    assert (found[0].calls, found[0].pointers, found[0].globals) == ({261}, {9}, {7, 8})
    assert found[0].numbers == {1040, -1, 65536, 100, 32, 48}
    assert not found[1].calls | found[1].numbers


@pytest.mark.parametrize("code", ["ff", "fc 20", "fe 00"])
def test_an_instruction_that_is_not_known_is_refused(code):
    """Whatever came after it would be read wrongly."""
    with pytest.raises(ValueError, match="not known"):
        functions(section(b"\x00" + bytes.fromhex(code) + b"\x0b"))


def test_a_function_that_ends_too_early_is_refused():
    """Within the bytes of a float."""
    with pytest.raises(ValueError, match="ends within"):
        functions(section(b"\x00\x44\x00\x0b"))


def test_all_of_pyodide_is_known(pyodide_dir):
    """Each function ends where its last instruction does."""
    module = (pyodide_dir / "pyodide.asm.wasm").read_bytes()
    assert len(functions(wasm.body(module, wasm.CODE))) > 10_000
