"""`new`: start an operator's folder, filled with examples that build at once."""

from __future__ import annotations

import argparse
import json
import re
import sys
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from calculators.core import words as language

from . import house
from .house import ROOT
from .place import SETTINGS
from .progress import Trouble

STARTER = ROOT / "tools" / "starter"
RULES = ("us", "ca", "uk", "eu", "au")
UNITS = ("us", "si")
EMPTY = ("pages", "drawings", "pictures")
CHOICE = re.compile(r"\[([^\[\]|\n]*)\|([^\[\]|\n]*)\]")
MARK = re.compile(r"\{(\w+)\}")
# What a person reads: a cell in quotes, a comment. Names of columns and of choices are never quoted.
READ = re.compile(r'"[^"\n]*"|^#.*$', re.MULTILINE)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Where, and the three things that all else hangs on; what is not given is asked."""
    parser.add_argument("folder", type=Path, metavar="DIR", help="a folder that is not there yet, or is empty")
    parser.add_argument("--name", help="the operator's name")
    parser.add_argument("--rules", choices=RULES, help="the rules the cabinets stand under")
    parser.add_argument("--units", choices=UNITS, help="what bare numbers mean: inches or millimeters")


def main(args: argparse.Namespace) -> int:
    """Write the folder; one that holds anything is left alone."""
    folder: Path = args.folder
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Trouble(f"{folder} is not empty, and nothing was written. Name a folder that is not there yet.")
    countries = tomllib.loads((STARTER / "countries.toml").read_text(encoding="utf-8"))
    rules = args.rules or asked("Rules (us, ca, uk, eu, au)", "us", RULES)
    units = args.units or asked("Units (us, si)", countries[rules]["units"], UNITS)
    name = args.name or asked("The operator's name", "Our vending", ())
    told = words(countries[rules], name=name, rules=rules, units=units, command=house.HERE.command)
    write(folder, told, units)
    print(f"{folder} is ready: look at {folder / SETTINGS} and the tables in {folder / 'tables'}.\n"
          f"Each row that begins with “example” is there to be written over. Then:\n"
          f"  {house.HERE.command} check {folder}\n  {house.HERE.command} build {folder}")  # fmt: skip
    return 0


def asked(what: str, usual: str, known: tuple[str, ...]) -> str:
    """An answer from the keyboard; the usual one where nobody sits there or nothing is typed."""
    if not sys.stdin.isatty():
        return usual
    while True:
        answer = input(f"{what} [{usual}]: ").strip() or usual
        if not known or answer in known:
            return answer
        print(f"  It must be one of: {', '.join(known)}.")


def words(country: Mapping[str, Any], **told: str) -> dict[str, str]:
    """What the marks of the starter stand for; lists are numbered."""
    lists = {"price": country["price"], "coin": country["coins"]}
    numbered = {f"{key}{place}": each for key, values in lists.items() for place, each in enumerate(values)}
    return {**{key: value for key, value in country.items() if isinstance(value, str)}, **numbered, **told}


def write(folder: Path, told: Mapping[str, str], units: str) -> None:
    """Every file of the starter, with its choices made."""
    for path in sorted(STARTER.rglob("*")):
        if path.suffix in (".csv", ".toml") and path.name != "countries.toml":
            target = folder / path.relative_to(STARTER)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(filled(path.read_text(encoding="utf-8"), told, units), encoding="utf-8", newline="\n")
    for name in EMPTY:
        (folder / name).mkdir()


def filled(text: str, told: Mapping[str, str], units: str) -> str:
    """A file of the starter: the half of each choice that fits the units, and each mark's own words."""
    text = READ.sub(lambda found: said(found[0], told["rules"]), text)
    chosen = CHOICE.sub(lambda found: found[1] if units == "us" else found[2], text)
    # A name may hold quotes: what JSON makes of it, TOML reads as the same text.
    return MARK.sub(lambda found: json.dumps(told[found[1]], ensure_ascii=False)[1:-1], chosen)


def said(text: str, rules: str) -> str:
    """A text in the words of the country; marks stay."""
    words = language.of(rules)
    return "".join(part if MARK.fullmatch(part) else words.say(part) for part in re.split(r"(\{\w+\})", text))
