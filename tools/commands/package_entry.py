"""The command `handbook` of the installed package: runs the house that lies beside this file."""

import sys
from pathlib import Path

HOUSE = Path(__file__).resolve().parent / "house"


def main() -> int:
    """Run the command that was typed; return its exit code."""
    # First, because other packages may have a folder `tools` too.
    sys.path.insert(0, str(HOUSE))
    from tools import handbook

    return handbook.main(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
