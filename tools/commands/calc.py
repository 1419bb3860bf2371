"""`calc`: work out one calculator, JSON in, JSON out, on nothing but Python."""

from __future__ import annotations

import argparse
import json
import sys
from typing import Any

import calculators


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The calculator's name; its inputs come on standard input."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="which calculator")
    parser.add_argument("--list", action="store_true", help="list the calculators")
    parser.add_argument(
        "--describe", action="store_true", help="print a calculator's inputs and results as JSON"
    )
    parser.add_argument("--units", choices=("us", "si"), default="us",
                        help="units of --describe")  # fmt: skip


def main(args: argparse.Namespace) -> int:
    """0 with a result, 2 with every error of the input as JSON."""
    if args.list:
        for name in calculators.NAMES:
            print(f"{name:12}{calculators.get(name).question}")
        return 0
    if args.name not in calculators.NAMES:
        return _refuse(args.name)
    if args.describe:
        return _print(calculators.get(args.name).describe(args.units))
    return _print(json.loads(calculators.run_json(args.name, sys.stdin.read())))


def _refuse(name: str | None) -> int:
    what = f"There is no calculator “{name}”." if name else "Name a calculator."
    message = f"{what} There are: {', '.join(calculators.NAMES)}."
    return _print({"errors": [{"field": "", "label": "Calculator", "message": message}]})


def _print(answer: dict[str, Any]) -> int:
    print(json.dumps(answer, ensure_ascii=False, indent=2))
    return 2 if "errors" in answer else 0
