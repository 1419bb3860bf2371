"""What is said to a browser: the commands of W3C WebDriver, by HTTP to a driver or straight into Firefox."""

from __future__ import annotations

import json
import socket
import urllib.error
import urllib.request
from typing import Any, Protocol

# Each command that is used here: how a driver is asked for it, after `session/ID/`.
COMMANDS = {
    "SetTimeouts": "POST timeouts",
    "SetWindowRect": "POST window/rect",
    "Navigate": "POST url",
    "Back": "POST back",
    "Refresh": "POST refresh",
    "ExecuteScript": "POST execute/sync",
    "ExecuteAsyncScript": "POST execute/async",
    "FindElement": "POST element",
    "ElementClick": "POST element/{id}/click",
    "ElementClear": "POST element/{id}/clear",
    "ElementSendKeys": "POST element/{id}/value",
    "PerformActions": "POST actions",
    "NewWindow": "POST window/new",
    "SwitchToWindow": "POST window",
    "CloseWindow": "DELETE window",
}


class Refused(Exception):
    """What the browser said to a command that it did not carry out."""


class Wire(Protocol):
    """Either way to say it."""

    def send(self, command: str, **given: Any) -> Any:
        """Say a command and return what it gives; Refused where it is not carried out."""


class Marionette:
    """Firefox's own remote control, which its driver program speaks too: Debian has no such program."""

    def __init__(self, port: int) -> None:
        self.socket = socket.create_connection(("127.0.0.1", port))
        self.stream = self.socket.makefile("rb")
        self.number = 0
        self.hear()  # a greeting
        self.send("NewSession", capabilities={"alwaysMatch": {}})

    def send(self, command: str, **given: Any) -> Any:
        answer = self.say(f"WebDriver:{command}", given)
        # A bare value comes wrapped; the rest comes as it is.
        return answer["value"] if isinstance(answer, dict) and set(answer) == {"value"} else answer

    def say(self, command: str, given: dict[str, Any]) -> Any:
        """Say a command of any kind, Firefox's own as well."""
        self.number += 1
        text = json.dumps([0, self.number, command, given]).encode()
        self.socket.sendall(b"%d:%b" % (len(text), text))
        _, _, error, answer = self.hear()
        if error:
            raise Refused(f"{command}: {error['error']}: {error['message']}")
        return answer

    def own(self, script: str, *given: Any) -> Any:
        """Run a script in Firefox itself, outside every page, until it calls its last argument."""
        self.say("Marionette:SetContext", {"value": "chrome"})
        try:
            return self.send("ExecuteAsyncScript", script=script, args=list(given))
        finally:
            self.say("Marionette:SetContext", {"value": "content"})

    def hear(self) -> Any:
        length = b""
        while (letter := self.stream.read(1)) != b":":
            assert letter, "Firefox has hung up"
            length += letter
        return json.loads(self.stream.read(int(length)))


class Http:
    """A driver program on this machine."""

    # No proxy stands between us and ourselves.
    opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))

    def __init__(self, port: int, capabilities: dict[str, Any], net: float) -> None:
        """Begin a session; TimeoutError where it has not begun after ``net`` seconds."""
        self.base = f"http://127.0.0.1:{port}/session"
        started = self.ask("POST", "", {"capabilities": {"alwaysMatch": capabilities}}, net)
        self.base += f"/{started['sessionId']}"

    def send(self, command: str, **given: Any) -> Any:
        method, path = COMMANDS[command].split()
        return self.ask(method, "/" + path.format(id=given.pop("id", "")), given)

    def quit(self) -> None:
        self.ask("DELETE", "", {})

    def ask(self, method: str, path: str, given: dict[str, Any], net: float | None = None) -> Any:
        body = json.dumps(given).encode() if method == "POST" else None
        request = urllib.request.Request(self.base + path, body, {"Content-Type": "application/json"}, method=method)
        try:
            with self.opener.open(request, timeout=net) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as error:
            raise Refused(f"{method} {path}: {error.read().decode()}") from error
