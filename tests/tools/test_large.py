"""The large operator: read without a question, the same each time, and no two sites alike."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path

from tools.book.data import load
from tools.commands import large
from tools.commands.bench_scale import CELL, Cost, told
from tools.commands.place import DEMONSTRATION
from tools.results import sites

SIZE = large.Size(sites=60, machines=10, products=160)


def contents(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_large_folder_is_read_and_is_the_same_each_time(tmp_path: Path) -> None:
    for name in ("one", "other"):
        large.write(DEMONSTRATION, tmp_path / name, SIZE)
    assert contents(tmp_path / "one") == contents(tmp_path / "other")
    data = load(tmp_path / "one")
    counted = {name: len(data.tables[name]) for name in ("sites", "machines", "products")}
    assert counted == {"sites": 60, "machines": 10, "products": 160}
    assert CELL in (tmp_path / "one" / "tables" / "sites.csv").read_text("utf-8")


def test_every_model_has_goods_and_sites_of_its_own(tmp_path: Path) -> None:
    large.write(DEMONSTRATION, tmp_path, SIZE)
    data = load(tmp_path)
    models = [row.typed["key"] for row in data.tables["machines"]]
    assert all(data.sold_in("products", key) and data.sold_in("coils", key) for key in models)
    assert set(Counter(row.typed["machine"] for row in data.tables["sites"])) == set(models)
    with_a_way = {row.typed["site"] for row in load(DEMONSTRATION).tables["routes"]}
    for row in data.tables["sites"]:
        first = re.sub(r"-\d+$", "", row.typed["key"])
        assert bool(data.of("routes", "site", row.typed["key"])) is (first in with_a_way)


def test_no_two_copies_of_a_site_ask_the_same(tmp_path: Path) -> None:
    """Else one answer would do for many, and the measure would flatter us."""
    large.write(DEMONSTRATION, tmp_path, SIZE)
    data = load(tmp_path)
    for name in ("clearance", "float"):
        asked = Counter(json.dumps(sites.questions(data, row.typed["key"])[name].request) for row in data.tables["sites"])
        assert max(asked.values()) == 1, name


def test_the_ratios_are_those_of_the_costs() -> None:
    few = Cost(100, first=120.0, answers=60.0, changed=24.0, unchanged=0.5, pages=30.0, plain=15.0, count=580, largest=45_800,
               visits=18.0, waited=9.9, cores=2, listed=98_000, begun=400.0, answer=61.0)  # fmt: skip
    many = Cost(1000, first=600.0, answers=400.0, changed=48.0, unchanged=1.0, pages=90.0, plain=30.0, count=1480, largest=46_000,
                visits=120.0, waited=66.0, cores=2, listed=410_000, begun=900.0, answer=99.0)  # fmt: skip
    text = told([few, many])
    for expected in ("2.00", "3.00", "0.60 s", "0.40 s", "0.200", "0.080", "45.8 kB", "9.9 s on 2, 0.55 of its 18.0 s", "98.0 kB",
                     "61 ms; to begin with 400 ms", "1,000 sites against 100 (goal at most 11):    5.00"):  # fmt: skip
        assert expected in text
    assert "against 100" not in told([few])
