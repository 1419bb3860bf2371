"""The editions that are made of a finished folder: its zip, the hosted app, the whole handbook as one file.

With them goes what proves them: checksums, a bill of materials, licenses. The same folder gives the same bytes wherever,
whenever and by whomever they are made.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from tools import licenses
from tools.post import manifest

from . import bill, hosting, packed, whole

FOLDER, HOSTED, HOSTING, BILL, LICENSES, SUMS = (
    "handbook-folder.zip", "handbook-hosted.zip", "hosting.txt", "bill-of-materials.json", "licenses.txt", "checksums.txt"
)  # fmt: skip
# Under what name the folder stands in its zip: unpacked, its files lie together.
TOP = "handbook"
ALL = (FOLDER, HOSTED, HOSTING, whole.NAME, BILL, LICENSES, SUMS)


def make(site: Path, locks: Path | None = None) -> dict[str, bytes]:
    """Return each file of the editions by its name; ``locks`` is the folder of what the tool itself was made with.

    Raises:
        Problems: the folder holds something that the one file cannot carry.
    """
    files = {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}
    made = {
        FOLDER: packed.archive({f"{TOP}/{name}": data for name, data in files.items()}),
        HOSTED: packed.archive(files),
        whole.NAME: whole.make(site),
        HOSTING: hosting.advice(site).encode(),
        LICENSES: texts().encode(),
    }
    made[BILL] = bill.of(site, {name: digest(data) for name, data in made.items()}, locks).encode()
    return {**made, SUMS: sums(made).encode()}


def write(made: dict[str, bytes], out: Path) -> None:
    """Put them into a folder, in place of older ones."""
    out.mkdir(parents=True, exist_ok=True)
    for name, data in made.items():
        (out / name).write_bytes(data)


def sums(made: dict[str, bytes]) -> str:
    """The checksums as `sha256sum --check` reads them."""
    return "".join(f"{digest(data)}  {name}\n" for name, data in sorted(made.items()))


def digest(data: bytes) -> str:
    """The SHA-256 of bytes."""
    return hashlib.sha256(data).hexdigest()


def texts() -> str:
    """Whose work the editions contain, with the whole text of each license."""
    rule = "=" * 78
    return "\n".join(f"{rule}\n{each.name} {each.version}\n{each.license}\n{rule}\n\n{each.text}" for each in licenses.notices())


def faults(site: Path) -> list[str]:
    """What of a folder is not as it was built, in words; an empty list where nothing is."""
    return [str(each) for each in (*manifest.missing(site), *manifest.changed(site))]
