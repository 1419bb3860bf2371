"""Entries of a cache that cannot be taken for what they are not: damaged, half written, or another's."""

from __future__ import annotations

import hashlib
import os
import zlib
from pathlib import Path

_SEAL = 32  # bytes of SHA-256


def read(path: Path) -> bytes:
    """What was written under that name; OSError where there is nothing, ValueError where it is not whole."""
    entry = path.read_bytes()
    seal, packed = entry[:_SEAL], entry[_SEAL:]
    if seal != _seal(path.name, packed):
        raise ValueError(f"{path} is damaged")
    return zlib.decompress(packed)


def write(path: Path, data: bytes) -> None:
    """Write an entry whole or not at all; OSError where there is no room."""
    packed = zlib.compress(data, 1)
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.with_name(f"{path.name}.{os.getpid()}")
    try:
        aside.write_bytes(_seal(path.name, packed) + packed)
        aside.replace(path)
    finally:
        aside.unlink(missing_ok=True)


def _seal(name: str, packed: bytes) -> bytes:
    return hashlib.sha256(name.encode() + packed).digest()


def forget(folder: Path, used: set[Path]) -> None:
    """Drop every entry of a folder that is not among ``used``."""
    for path in sorted(folder.rglob("*"), reverse=True):
        if path.is_dir():
            if not any(path.iterdir()):
                path.rmdir()
        elif path not in used:
            path.unlink()
