"""The command `calc`: JSON in, JSON out, on bare Python; exit 0 with a result, 2 with errors."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

import calculators

HANDBOOK = Path(__file__).parents[2] / "tools" / "handbook.py"


def calc(*words: str, given: str = "") -> subprocess.CompletedProcess[str]:
    # -I -S: nothing but the standard library is on the path, as on a bare machine.
    return subprocess.run(
        [sys.executable, "-I", "-S", str(HANDBOOK), "calc", *words],
        input=given, capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_list_names_every_calculator() -> None:
    answer = calc("--list")
    assert answer.returncode == 0
    assert [line.split()[0] for line in answer.stdout.splitlines()] == list(calculators.NAMES)


@pytest.mark.parametrize("name", calculators.NAMES)
def test_describe_gives_inputs_and_results(name: str) -> None:
    answer = calc(name, "--describe")
    facts = json.loads(answer.stdout)
    assert answer.returncode == 0
    assert {field["key"] for field in facts["inputs"]} == {
        field.key for field in calculators.get(name).inputs.fields()
    }
    assert facts["results"]
    assert facts["checks"]


@pytest.mark.parametrize("name", calculators.NAMES)
def test_the_described_example_runs_as_it_is(name: str) -> None:
    """What --describe prints as an example may be sent back, bare or as a whole request."""
    example = json.loads(calc(name, "--describe").stdout)["example"]
    whole = calc(name, given=json.dumps(example))
    bare = calc(name, given=json.dumps({"units": example["units"], **example["inputs"]}))
    assert whole.returncode == bare.returncode == 0
    assert json.loads(whole.stdout) == json.loads(bare.stdout)
    assert json.loads(whole.stdout)["outcome"] in {"pass", "caution", "stop", "unknown"}


def test_every_bad_input_is_told_with_exit_2() -> None:
    answer = calc("clearance", given='{"cabinet_width": "wide", "cabinet_depth": "3,5", "speed": 1}')
    assert answer.returncode == 2
    told = {error["field"] for error in json.loads(answer.stdout)["errors"]}
    assert told == {"cabinet_width", "cabinet_depth", "speed"}


@pytest.mark.parametrize("given", ["", "{", "[]", "7", '{"inputs": 3}', '{"units": "miles", "inputs": {}}'])
def test_what_is_no_request_is_told_with_exit_2(given: str) -> None:
    answer = calc("clearance", given=given)
    assert answer.returncode == 2
    assert json.loads(answer.stdout)["errors"][0]["message"]


def test_an_unknown_calculator_is_told_with_the_known_ones() -> None:
    answer = calc("clearence")
    assert answer.returncode == 2
    assert "clearance" in json.loads(answer.stdout)["errors"][0]["message"]
