"""Folders and zips as {path: bytes}."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path


def read_tree(folder: Path) -> dict[str, bytes]:
    """Return {relative path: bytes} of every file below `folder`."""
    paths = [path for path in folder.rglob("*") if path.is_file()]
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}


def write_tree(folder: Path, files: dict[str, bytes]) -> None:
    """Write {relative path: bytes} below `folder`."""
    for name, data in files.items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)


def stored_zip(files: dict[str, bytes]) -> bytes:
    """Return an uncompressed zip that depends on names and contents alone."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
            entry.create_system = 3  # else it names the builder's operating system
            archive.writestr(entry, files[name])
    return buffer.getvalue()
