"""Runs Node, which does the work that Python alone cannot."""

from __future__ import annotations

import subprocess

from .errors import PackError


def run_node(node: str, arguments: list[str], failed: str) -> str:
    """Return what it printed; PackError of `failed` and the end of its complaint where it ended badly."""
    try:
        done = subprocess.run([node, *arguments], capture_output=True, text=True, check=False)
    except OSError as error:
        raise PackError(f"cannot run Node ({node}): {error}") from error
    if done.returncode:
        raise PackError(f"{failed}: {done.stderr.strip()[-2000:]}")
    return done.stdout
