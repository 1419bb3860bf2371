"""From a command's name to its module, in the right environment.

A command is a module of this package with `add_arguments(parser)` and `main(args) -> int`.
It may also have:

* `PASSES_ON = True`: arguments it does not know are kept in `args.rest`;
* `layers(args)`: the layers it needs for these arguments, where they are not always the same.

At its top it imports the standard library and our own code only: arguments are read, and
refused, before the environment is made.
"""

from __future__ import annotations

import argparse
import errno
import importlib
import sys
from collections.abc import Sequence
from types import ModuleType

from . import house
from .progress import Trouble

# No room on the disk, of a quota, or for a file of that size.
FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)


def run(name: str, does: str, layers: Sequence[str], argv: list[str]) -> int:
    """Run a command and return its exit code; trouble is told without a traceback."""
    try:
        return _run(name, does, layers, argv)
    except Trouble as trouble:
        print(f"\n{trouble}", file=sys.stderr)
        return 1
    except OSError as error:
        if error.errno not in FULL:
            raise
        print(f"\nThere is no room left to write ({error.strerror}: {error.filename or 'a file'}). "
              "Make room and start again; what was made before is untouched.", file=sys.stderr)  # fmt: skip
        return 1
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130


def _run(name: str, does: str, layers: Sequence[str], argv: list[str]) -> int:
    module = importlib.import_module(f"{__package__}.{name}")
    args = parse(module, name, does, argv)
    wanted = module.layers(args) if hasattr(module, "layers") else layers
    if wanted:
        house.HERE.enter(wanted, [name, *argv])
    return int(module.main(args))


def parse(module: ModuleType, name: str, does: str, argv: list[str]) -> argparse.Namespace:
    """Read a command's arguments; a mistake ends the program with exit code 2."""
    parser = argparse.ArgumentParser(
        prog=f"{house.HERE.command} {name}", description=f"{does[0].upper()}{does[1:]}.", allow_abbrev=False
    )
    module.add_arguments(parser)
    if not getattr(module, "PASSES_ON", False):
        return parser.parse_args(argv)
    args, rest = parser.parse_known_args(argv)
    args.rest = rest
    return args
