"""Servers at work, one a core, each in a throw-away copy of the checkout."""

from __future__ import annotations

import json
import os
import queue
import shutil
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any, Self

SERVER = Path(__file__).with_name("server.py")
NOT_COPIED = shutil.ignore_patterns(".git", ".venv", ".cache", "node_modules", "site", ".mypy_cache",
                                    ".ruff_cache", ".pytest_cache", ".hypothesis", "__pycache__")  # fmt: skip
LINKED = ("node_modules",)


def copied(root: Path, folder: Path) -> Path:
    """A copy of the checkout as it stands, what is heavy and only read linked into it."""
    shutil.copytree(root, folder, ignore=NOT_COPIED, symlinks=True)
    for name in LINKED:
        if (root / name).exists() and not (folder / name).exists():
            (folder / name).symlink_to((root / name).resolve())
    return folder


class Server:
    """One server process with its copy."""

    def __init__(self, root: Path, folder: Path) -> None:
        copy = copied(root, folder)
        environ = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "PYTHONHASHSEED": "0"}
        self.process = subprocess.Popen([sys.executable, str(SERVER), str(copy)], env=environ, text=True,
                                        stdin=subprocess.PIPE, stdout=subprocess.PIPE)  # fmt: skip

    def ask(self, job: dict[str, Any]) -> dict[str, Any]:
        """Do one job."""
        process = self.process
        if process.stdin is None or process.stdout is None:
            raise RuntimeError("a server without pipes")
        process.stdin.write(json.dumps(job) + "\n")
        process.stdin.flush()
        line = process.stdout.readline()
        if not line:
            raise RuntimeError(f"a server ended with {process.wait()}")
        answer: dict[str, Any] = json.loads(line)
        return answer

    def close(self) -> None:
        """Let it end."""
        if self.process.stdin:
            self.process.stdin.close()
        self.process.wait()


class Crew:
    """As many servers as there are cores."""

    def __init__(self, root: Path, count: int) -> None:
        self._folder = tempfile.TemporaryDirectory(prefix="mutate-")
        at = Path(self._folder.name)
        self.servers = [Server(root, at / str(number)) for number in range(count)]

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        for server in self.servers:
            server.close()
        self._folder.cleanup()

    def work(self, jobs: Sequence[Any], job_of: Callable[[Any], dict[str, Any]]) -> Iterator[tuple[Any, dict[str, Any]]]:
        """Each job with its answer, as they come."""
        todo: queue.SimpleQueue[Any] = queue.SimpleQueue()
        done: queue.SimpleQueue[tuple[Any, Any]] = queue.SimpleQueue()
        for job in jobs:
            todo.put(job)
        for server in self.servers:
            threading.Thread(target=_serve, args=(server, todo, done, job_of), daemon=True).start()
        for _ in jobs:
            job, answer = done.get()
            if isinstance(answer, Exception):
                raise answer
            yield job, answer


def _serve(server: Server, todo: queue.SimpleQueue[Any], done: queue.SimpleQueue[tuple[Any, Any]],
           job_of: Callable[[Any], dict[str, Any]]) -> None:  # fmt: skip
    while True:
        try:
            job = todo.get_nowait()
        except queue.Empty:
            return
        try:
            done.put((job, server.ask(job_of(job))))
        except Exception as error:  # noqa: BLE001 - told where the answer is awaited
            done.put((job, error))
            return
