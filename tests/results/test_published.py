"""Cases that a reader's own copy works out: each is one of ours, and comes out as its source prints it."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest

import calculators
from tools.pages import thiscopy
from tools.post import listing
from tools.results import published

CASES = Path(__file__).parents[1] / "cases"
RAW = tomllib.loads((Path(published.__file__).with_suffix(".toml")).read_text(encoding="utf-8"))["case"]
BOTH = [pytest.param(raw, made, id=f"{raw['from']}, {made['printed']}") for raw, made in zip(RAW, published.listed(), strict=True)]


def original(raw: dict[str, Any]) -> dict[str, Any]:
    """The case of tests/cases that one stands for."""
    file, _, ident = raw["from"].partition(": ")
    tables = tomllib.loads((CASES / f"{file}.toml").read_text(encoding="utf-8")).values()
    rows = [each for table in tables if isinstance(table, list) for each in table]
    return next(each for each in rows if ident in (each.get("id"), each.get("what"), each.get("name")))


def found(answer: dict[str, Any], kind: str, key: str, at: str) -> Any:
    """What an answer says, looked up by hand."""
    checks = [each for each in answer["checks"] if each["key"] == key and at in ("", each["at"])]
    if kind == "cell":
        table = next(each for each in answer["tables"] if each["key"] == at)
        return table["rows"][0][table["keys"].index(key)]
    return {
        "value": lambda: next(each["inner"] for each in answer["values"] if each["key"] == key),
        "limit": lambda: checks[0]["limit"],
        "check": lambda: checks[0]["outcome"],
        "step": lambda: next(step["value"] for part in answer["working"] for step in part["steps"] if step["symbol"] == key),
    }[kind]()


@pytest.mark.parametrize(("raw", "made"), BOTH)
def test_it_comes_out_as_printed(raw: dict[str, Any], made: dict[str, Any]) -> None:
    answer = json.loads(calculators.run_json(made["calculator"], json.dumps(made["request"])))
    assert "errors" not in answer
    value = found(answer, made["kind"], made["key"], made.get("at", ""))
    if isinstance(made["expected"], str):
        assert value == made["expected"]
    else:
        assert value * made.get("scale", 1) == pytest.approx(made["expected"], abs=made["tolerance"] * (1 + 1e-9))


@pytest.mark.parametrize(("raw", "made"), BOTH)
def test_it_is_a_case_of_ours_with_its_source(raw: dict[str, Any], made: dict[str, Any]) -> None:
    """Source and status are the case's own, and what is printed is what stands there."""
    case = original(raw)
    assert raw["status"] == case["status"].partition(";")[0]
    cited = case.get("citation") or case["cite"]
    assert raw["source"] == cited or cited in raw["source"]
    assert set(_scalars(case.get("inputs", {}))) <= set(_scalars(raw["inputs"]))
    if "check" not in raw:
        words = [word for each in _scalars(case) for word in str(each).split()]
        assert raw["printed"].split()[0] in words
    elif "last" in case:
        assert raw["printed"] == ("pass" if raw["inputs"]["now"].startswith(case["last"]) else "stop")
    else:
        assert raw["printed"] == case["outcome"]


def _scalars(value: Any) -> list[Any]:
    """Every number and word in a case, however deep."""
    inside = value.values() if isinstance(value, dict) else value if isinstance(value, list) else None
    return [value] if inside is None else [each for one in inside for each in _scalars(one)]


def test_none_is_better_known_than_its_source() -> None:
    """Published and reprinted ones, and one from memory that says so, for a calculator that has no other."""
    kinds = {status: {raw["calculator"] for raw in RAW if raw["status"] == status} for status in ("published", "reprinted", "from memory")}
    assert {raw["status"] for raw in RAW} == set(kinds)
    assert kinds["from memory"] == {"handling"}


@pytest.mark.parametrize("rules", ["us", "eu"])
def test_every_calculator_s_example_goes_along(rules: str) -> None:
    made = list(published.examples(rules))
    assert [each["calculator"] for each in made] == list(calculators.NAMES)
    assert all(each["request"]["rules"] == rules and len(each["sum"]) == 64 and each["printed"] for each in made)


def test_the_script_is_small() -> None:
    assert len(thiscopy.script("us", listing.STRAY).encode()) < 40_000
