"""tools/runtime/wasm.py: sections, exports and imports of small modules written by hand."""

import pytest

from tools.runtime import wasm
from tools.runtime.wasm import EXPORT, IMPORT, Reader, Section

# Two functions () -> (), exported as "go" and "stay"; from the module "env" come a function, a table, a memory
# with a limit, a changeable global and a tag.
TYPE = Section(1, b"\x01\x60\x00\x00")
IMPORTS = Section(IMPORT, b"\x05" + b"".join((
    b"\x03env\x03run\x00\x00",
    b"\x03env\x03tab\x01\x70\x00\x01",
    b"\x03env\x03mem\x02\x01\x01\x80\x02",
    b"\x03env\x03top\x03\x7f\x01",
    b"\x03env\x03tag\x04\x00\x00",
)))  # fmt: skip
FUNCTIONS = Section(3, b"\x02\x00\x00")
EXPORTS = Section(EXPORT, b"\x02\x02go\x00\x01\x04stay\x00\x02")
CODE = Section(10, b"\x02\x02\x00\x0b\x02\x00\x0b")
MODULE = wasm.joined([TYPE, IMPORTS, FUNCTIONS, EXPORTS, CODE])


def test_a_module_comes_out_as_it_went_in():
    """Reading and writing all sections changes no byte."""
    assert wasm.joined(wasm.sections(MODULE)) == MODULE
    assert [each.kind for each in wasm.sections(MODULE)] == [1, 2, 3, 7, 10]


def test_exports_are_cut():
    """Only the kept one is left, with its own index; every other section keeps its bytes."""
    cut = wasm.with_exports(MODULE, {"stay", "elsewhere"})
    assert wasm.exports(cut) == {"stay": (0, 2)}
    assert wasm.joined([TYPE, IMPORTS, FUNCTIONS, Section(EXPORT, b"\x01\x04stay\x00\x02"), CODE]) == cut


def test_imports_of_every_kind_are_read():
    """Each kind has its own length; a wrong one would shift all that come after it."""
    kinds = [("run", 0), ("tab", 1), ("mem", 2), ("top", 3), ("tag", 4)]
    assert wasm.imports(MODULE) == [("env", name, kind) for name, kind in kinds]


@pytest.mark.parametrize("value", [0, 127, 128, 300, 2**32 - 1])
def test_numbers_come_back(value):
    """Numbers of one byte and more."""
    assert Reader(wasm.number(value)).number() == value


def test_a_number_is_as_short_as_can_be():
    """As in the specification of DWARF, 7.6, for 128 and 12857."""
    assert [wasm.number(value).hex() for value in (2, 127, 128, 12857)] == ["02", "7f", "8001", "b964"]


@pytest.mark.parametrize(
    ("module", "message"),
    [
        (b"\0asm\2\0\0\0", "version 1"),
        (MODULE[:-1], "too early"),
        (wasm.joined([TYPE]), "0 sections of kind 2"),
        (wasm.joined([IMPORTS, IMPORTS]), "2 sections of kind 2"),
        (wasm.joined([Section(IMPORT, b"\x01\x01m\x01n\x09\x00")]), "n is an import of the unknown kind 9"),
    ],
)
def test_what_is_not_understood_is_refused(module, message):
    """Nothing is guessed."""
    with pytest.raises(ValueError, match=message):
        wasm.imports(module)
