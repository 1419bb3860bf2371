"""The command `calc`: JSON in, JSON out, on bare Python; exit 0 with a result, 2 with errors."""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import calculators
from tools.commands import calc as calc_command

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


# -- the shell's own troubles ---------------------------------------------------------


def piped(command: str, given: bytes = b"{}", **environ: str) -> subprocess.CompletedProcess[bytes]:
    """The command line through a shell that redirects; CALC stands for the command."""
    line = f'{sys.executable} -S "{HANDBOOK}" calc'
    return subprocess.run(["bash", "-c", command.replace("CALC", line)], input=given,
                          capture_output=True, check=False, env={**os.environ, **environ})  # fmt: skip


@pytest.mark.parametrize("words", ["clearance", "clearance --describe", "--list", "clearence"])
@pytest.mark.parametrize(("where", "why"), [(">/dev/full", b"No space left"), (">&-", b"no standard output")])
def test_an_answer_that_cannot_be_written_is_exit_1(words: str, where: str, why: bytes) -> None:
    """A full disk or a closed output: one sentence, no traceback, never exit 0."""
    answer = piped(f"CALC {words} {where}")
    assert answer.returncode == 1
    assert why in answer.stderr
    assert b"Traceback" not in answer.stderr
    assert b"Exception ignored" not in answer.stderr


def test_a_reader_that_went_away_is_exit_1() -> None:
    answer = piped("set -o pipefail; { sleep 0.3; CALC --list; echo $? >&2; } | true")
    assert answer.stderr.strip().endswith(b"1")
    assert b"Broken pipe" in answer.stderr
    assert b"Traceback" not in answer.stderr


def test_no_standard_input_is_exit_2() -> None:
    answer = piped("CALC clearance <&-")
    assert answer.returncode == 2
    assert "no standard input" in json.loads(answer.stdout)["errors"][0]["message"]


@pytest.mark.parametrize("locale", ["C", "POSIX"])
def test_an_ascii_terminal_gets_the_same_utf_8(locale: str) -> None:
    """JSON is UTF-8 whatever the terminal is set to, on its way in and on its way out."""
    ascii_ = {"LC_ALL": locale, "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "PYTHONIOENCODING": "ascii"}
    given = '{"units": "us", "cabinet_width": "35 ½"}'.encode()
    answer = piped("CALC clearance", given, **ascii_)
    assert answer.returncode == 0
    assert answer.stdout == piped("CALC clearance", given, PYTHONUTF8="1").stdout
    assert json.loads(answer.stdout)["inputs"]["cabinet_width"] == "35 1/2 in"


def test_bytes_that_are_no_text_are_exit_2() -> None:
    answer = piped("CALC clearance", b'{"cabinet_width": "\xff"}')
    assert answer.returncode == 2
    assert "not in UTF-8" in json.loads(answer.stdout)["errors"][0]["message"]


def test_a_name_that_is_no_text_is_exit_2() -> None:
    answer = piped("CALC $'\\xff'")
    assert answer.returncode == 2
    assert "clearance" in json.loads(answer.stdout)["errors"][0]["message"]


def test_a_fault_is_exit_3(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(calculators, "run_json", lambda *_: '{"errors": [], "fault": "made for this test"}')
    monkeypatch.setattr(calc_command, "_given", lambda: "{}")
    assert calc_command.main(argparse.Namespace(name="clearance", list=False, describe=False)) == 3
    assert "made for this test" in capfd.readouterr().out
