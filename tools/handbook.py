"""The one command: `python3 tools/handbook.py COMMAND`, on nothing but Python 3.11 or later.

A command that needs more than the standard library runs inside `.venv/`, which is made
here from locked, hash-checked requirements; the script then starts itself again in there.

This file must be readable by an old Python, so that it can say it is too old.
"""

import os
import sys

OLDEST = (3, 11)
ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))

# Name: what it does, and the layers of the environment (tools/locks/LAYER.txt) it needs.
COMMANDS = {
    "new": ("start an operator's folder, filled with examples", ()),
    "check": ("tell every mistake in an operator's folder", ("build",)),
    "build": ("make the handbook and say which file to open", ("build",)),
    "verify": ("tell whether a built handbook, or a copy of it, is whole", ()),
    "test": ("run every check", ("build", "test")),
    "serve": ("show the handbook while you write it", ("build",)),
    "own": ("copy one of our pages into an operator's folder, to write it anew", ("build",)),
    "calc": ("work out one calculator: JSON in, JSON out", ()),
    "mutate": ("put faults in, one at a time, and see whether a test notices", ("build", "test", "mutate")),
    "fuzz": ("throw odd texts at the calculators' JSON border", ("fuzz",)),
    "bench": ("measure speed and size", ("build", "test")),
    "editions": ("make zip, hosted app and one file of the built handbook", ()),
    "package": ("pack the whole tool as a wheel for operators", ("build",)),
    "wheel": ("pack the calculators for a hosted page or a notebook", ("build",)),
}


def too_old(major: int, minor: int) -> str:
    """Return what to say to a Python of this version, or "" where it will do."""
    if (major, minor) >= OLDEST:
        return ""
    wants = "The handbook needs Python %d.%d or later" % OLDEST
    return wants + "; this is Python %d.%d (%s)." % (major, minor, sys.executable)


def offered() -> "dict[str, tuple[str, tuple[str, ...]]]":
    """Return the commands whose module is here: a package leaves out those of a clone."""
    folder = os.path.join(ROOT, "tools", "commands")
    return {name: told for name, told in COMMANDS.items() if os.path.exists(os.path.join(folder, name + ".py"))}


def usage() -> str:
    """Return the list of commands, as --help prints it."""
    from tools.commands.house import HERE

    lines = ["  %-10s%s" % (name, does) for name, (does, _) in offered().items()]
    return "\n".join(
        ["Use: %s COMMAND ..." % HERE.command, "", "Commands:"]
        + lines
        + ["", "`%s COMMAND --help` tells more about one." % HERE.command]
    )


def main(argv: "list[str]") -> int:
    """Run the command named first in `argv`; return its exit code."""
    # The folder of this file comes first otherwise, and `import tools` would fail.
    sys.path[0] = ROOT
    if not argv or argv[0] in ("-h", "--help", "help"):
        print(usage())
        return 0 if argv else 2
    if argv[0] not in offered():
        print("There is no command “%s”.\n\n%s" % (argv[0], usage()), file=sys.stderr)
        return 2
    from tools.commands import dispatch

    return dispatch.run(argv[0], *COMMANDS[argv[0]], argv[1:])


if __name__ == "__main__":
    if too_old(*sys.version_info[:2]):
        sys.exit(too_old(*sys.version_info[:2]))
    sys.exit(main(sys.argv[1:]))
