"""`calc`: work out one calculator, JSON in, JSON out, on nothing but Python.

Exit codes: 0 a result; 1 the answer could not be written; 2 the request cannot be used, every
error of it as JSON; 3 a fault of the program, as JSON too; 130 stopped.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from typing import Any

import calculators
from calculators import door

from .progress import Trouble

REFUSED, FAULT = 2, 3


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The calculator's name; its inputs come on standard input."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="which calculator")
    parser.add_argument("--list", action="store_true", help="list the calculators")
    parser.add_argument(
        "--describe", action="store_true", help="print a calculator's inputs and results as JSON"
    )
    parser.add_argument("--units", choices=("us", "si"), default="us",
                        help="units of --describe")  # fmt: skip
    parser.epilog = ("Exit codes: 0 a result, 1 the answer could not be written, 2 the request cannot be "
                     "used, 3 a fault of the program.")  # fmt: skip


def main(args: argparse.Namespace) -> int:
    """The exit code; the first lines of this file say which."""
    if args.list:
        _write("".join(f"{name:12}{calculators.get(name).question}\n" for name in calculators.NAMES))
        return 0
    if args.name not in calculators.NAMES:
        what = f"There is no calculator “{args.name}”." if args.name else "Name a calculator."
        return _refuse("Calculator", f"{what} There are: {', '.join(calculators.NAMES)}.")
    if args.describe:
        return _print(calculators.get(args.name).describe(args.units))
    try:
        given = _given()
    except (OSError, ValueError) as error:
        return _refuse("Request", str(error))
    return _print(json.loads(calculators.run_json(args.name, given)))


def _given() -> str:
    """What came on standard input; OSError or ValueError where that is nothing or no text."""
    if sys.stdin is None:
        raise OSError("There is no standard input: send the request as JSON.")
    if sys.stdin.isatty():
        print("Type the request as JSON, then end it with Ctrl-D …", file=sys.stderr)
    # Bytes, because JSON is UTF-8 whatever the terminal is set to.
    raw = sys.stdin.buffer.read()
    try:
        return raw.decode()
    except UnicodeDecodeError as error:
        raise ValueError(f"The request is not in UTF-8: {error}.") from error


def _refuse(label: str, message: str) -> int:
    return _print({"errors": [{"field": "", "label": label, "message": message}]})


def _print(answer: dict[str, Any]) -> int:
    _write(door.whole_characters(json.dumps(answer, ensure_ascii=False, indent=2)) + "\n")
    if "fault" in answer:
        return FAULT
    return REFUSED if "errors" in answer else 0


def _write(text: str) -> None:
    """Write all of it now, as UTF-8; Trouble where that cannot be done."""
    if sys.stdout is None:
        raise Trouble("The answer could not be written: there is no standard output.")
    try:
        sys.stdout.buffer.write(text.encode())
        sys.stdout.buffer.flush()
    except OSError as error:
        # What is left in the buffer would be tried again, and complained of, at the very end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        raise Trouble(f"The answer could not be written: {error.strerror}.") from error
