"""tools/runtime/snapshot.py: which pages of memory are kept, and what they belong to."""

import gzip
import json
import struct
from pathlib import Path

import pytest

from tools.runtime import pack as packer
from tools.runtime.errors import PackError
from tools.runtime.snapshot import PAGE, differing, end

from .test_pack import asset, do_pack, write_package  # noqa: F401 - a fixture


def pages(*numbers: int) -> bytes:
    """Memory whose pages hold one number each."""
    return b"".join(bytes((number,)) * PAGE for number in numbers)


@pytest.mark.parametrize(("after", "data", "before", "runs"), [
    ((0, 0, 0), (), (), []),
    ((1, 2, 3), (1, 2, 3), (1, 2, 3), []),
    ((1, 2, 3, 4), (1, 0, 0, 4), (1, 0, 0, 4), [[1, 2]]),
    ((1, 0, 3, 0), (), (), [[0, 1], [2, 1]]),
    # As the data make it, but the start of the wasm would have changed it.
    ((1, 2), (1, 2), (1, 7), [[1, 1]]),
    # Given back since, and swept.
    ((1, 0), (1, 5), (1, 5), [[1, 1]]),
])  # fmt: skip
def test_kept_is_what_a_page_does_not_have(after, data, before, runs):
    """Memory that is told shorter ends in zeros."""
    assert differing(pages(*after), pages(*data), pages(*before)) == runs


def test_one_changed_byte_keeps_its_page():
    """At either end of it."""
    for at in (PAGE, 2 * PAGE - 1):
        memory = bytearray(3 * PAGE)
        memory[at] = 1
        assert differing(bytes(memory), b"") == [[1, 1]]


@pytest.mark.parametrize("data", [b"", b"\0", b"Tern" * 1000])
def test_the_end_of_an_asset_is_gzip_s_own(data):
    """So that a page knows it by what it reads last."""
    assert bytes(end(data)) == gzip.compress(data)[-8:]


def test_the_asset_says_what_it_belongs_to(do_pack, tmp_path):  # noqa: F811
    """Its pages are as many as told, its ends those of the files beside it, and it names the build."""
    do_pack(build_id="b-3")
    data = asset(tmp_path / "out", "snapshot")
    (length,) = struct.unpack("<I", data[:4])
    head = json.loads(data[4 : 4 + length])
    assert len(data) == 4 + length + PAGE * sum(count for _, count in head["runs"])
    assert head["build"] == "b-3"
    assert head["ends"] == {name: end(asset(tmp_path / "out", name)) for name in ("wasm", "library", "calculators")}
    assert head["size"] % 65536 == 0  # whole pages of the wasm
    assert head["files"]["calculators"] == packer.PACKAGE_ZIP
    # Nothing of the machine on which it was made: neither where our own files lie nor where it was packed.
    assert not [path for path in (packer.HERE, tmp_path, Path.home()) if str(path).encode() in data]
    assert b"snapshot.mjs" not in data





def test_a_calculator_that_does_not_answer_stops_the_build(do_pack, tmp_path):  # noqa: F811
    """An example that is kept must be one."""
    write_package(tmp_path / "source", {"__init__.py": "def run_json(name, text):\n    return '{\"errors\": [1]}'\n"})
    with pytest.raises(PackError, match=r"(?s)keeping Python's memory failed.*sum does not answer"):
        do_pack(warm=[("sum", "[]")])
