"""Firefox and WebKitGTK, started as a reader has them: with the preferences that they come with."""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.browser.conftest import until
from tests.engines.wire import Http, Marionette

# A browser under remote control gets preferences of its own, among them one store and one origin for all files.
# This keeps them out: what a reader's Firefox refuses is refused here.
PREFERENCES = {"remote.prefs.recommended": "false", "marionette.port": "0"}
SCREEN = "1280x1024x24"
# Seconds for a session to begin: one time in thirty the driver and its browser miss each other, and wait for ever.
# Another pair is started then, with more time, so that no slow machine decides.
NETS = (20, 60, 180)


@contextlib.contextmanager
def firefox(program: str, folder: Path) -> Iterator[Marionette]:
    """Firefox without a window, in a fresh profile in a folder."""
    lines = [f'user_pref("{name}", {value});' for name, value in PREFERENCES.items()]
    (folder / "user.js").write_text("\n".join(lines), encoding="utf-8")
    command = [program, "--headless", "--no-remote", "--profile", str(folder)]
    # The second lets a test read the preferences back.
    command += ["--marionette", "--remote-allow-system-access"]
    with process(command, folder / "said.txt", HOME=str(folder)) as started:
        wire = Marionette(int(written(folder / "MarionetteActivePort", started)))
        yield wire
        wire.say("Marionette:Quit", {"flags": ["eForceQuit"]})
        started.wait()


@contextlib.contextmanager
def webkit(program: str, display: str, folder: Path, *settings: str) -> Iterator[Http]:
    """WebKitGTK's small browser with a fresh store in memory, and with settings of its own where a test wants them."""
    with contextlib.ExitStack() as stack:
        wire = next(filter(None, (begun(stack, program, display, folder, settings, each) for each in NETS)), None)
        assert wire, f"{program} has begun no session, {len(NETS)} times"
        try:
            yield wire
        finally:
            wire.quit()


def begun(
    stack: contextlib.ExitStack, program: str, display: str, folder: Path, settings: Sequence[str], net: float
) -> Http | None:
    """A session of a driver of its own, or None where it has not begun in so many seconds."""
    port = free_port()
    command = [program, "--host=127.0.0.1", f"--port={port}"]
    started = stack.enter_context(process(command, folder / "said.txt", DISPLAY=display, HOME=str(folder)))
    listening(port, started)
    try:
        return Http(port, options(settings), net)
    except TimeoutError:
        stack.close()
        return None


def options(settings: Sequence[str]) -> dict[str, object]:
    """What is asked of the driver: without settings its own browser, as it comes."""
    if not settings:
        return {}
    browser = next(Path("/usr").glob("lib*/**/webkit2gtk-4.*/MiniBrowser"))
    return {"webkitgtk:browserOptions": {"binary": str(browser), "args": ["--automation", *settings]}}


@contextlib.contextmanager
def screen(xvfb: str, folder: Path) -> Iterator[str]:
    """A screen that nobody sees, under the first number that is free."""
    number = folder / "display.txt"
    with number.open("w") as told:
        command = [xvfb, "-displayfd", str(told.fileno()), "-screen", "0", SCREEN, "-nolisten", "tcp"]
        with process(command, folder / "screen.txt", keep=told.fileno()) as started:
            yield f":{written(number, started)}"


@contextlib.contextmanager
def process(command: list[str], said: Path, keep: int | None = None, **more: str) -> Iterator[subprocess.Popen[bytes]]:
    """A program whose words go to a file, and which is ended at the latest with the block."""
    with said.open("wb") as told:
        started = subprocess.Popen(
            command, stdin=subprocess.DEVNULL, stdout=told, stderr=told, env={**os.environ, **more},
            pass_fds=[] if keep is None else [keep], start_new_session=True,
        )  # fmt: skip
    started.said = said
    try:
        yield started
    finally:
        # With all that it has started itself.
        with contextlib.suppress(ProcessLookupError):
            os.killpg(started.pid, signal.SIGTERM)
        started.wait()


def alive(started: subprocess.Popen[bytes]) -> None:
    assert started.poll() is None, f"{started.args[0]} has ended: {started.said.read_text(errors='replace')[-2000:]}"


def written(path: Path, started: subprocess.Popen[bytes]) -> str:
    """The line that a program writes once it is ready."""

    def line() -> str:
        alive(started)
        text = path.read_text(encoding="ascii") if path.exists() else ""
        return text.strip() if text.endswith("\n") or path.name.startswith("Marionette") else ""

    return str(until(line, path.name))


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def listening(port: int, started: subprocess.Popen[bytes]) -> None:
    def answers() -> bool:
        alive(started)
        with socket.socket() as probe:
            return probe.connect_ex(("127.0.0.1", port)) == 0

    until(answers, f"{started.args[0]} at its port")
