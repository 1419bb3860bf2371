"""A page in either engine, used as a reader uses it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.browser.conftest import PATIENCE, until
from tests.engines.wire import Marionette, Refused, Wire

# The name under which the standard hands over an element.
ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
NOT_YET = ("not interactable", "click intercepted", "stale element")
# All that any file has stored; the last argument is to be called at the end.
FORGET = "Services.clearData.deleteData(Ci.nsIClearDataService.CLEAR_ALL, { onDataDeleted: arguments[0] });"


class Page:
    """What a reader does with a page, and what stands in it."""

    def __init__(self, wire: Wire, site: Path, server: str = "") -> None:
        """Of the handbook's files, or of the same on a server."""
        self.wire = wire
        self.site = site
        self.root = server or site.as_uri() + "/"
        wire.send("SetTimeouts", pageLoad=PATIENCE * 1000, script=PATIENCE * 1000, implicit=0)
        wire.send("SetWindowRect", x=0, y=0, width=1280, height=900)

    def address(self, name: str) -> str:
        return self.root + name

    def open(self, name: str) -> None:
        """Open a page of the handbook."""
        self.wire.send("Navigate", url=self.address(name))

    def back(self) -> None:
        self.wire.send("Back")

    def reload(self) -> None:
        self.wire.send("Refresh")

    def evaluate(self, expression: str, *given: Any) -> Any:
        """The value of an expression in the page; `arguments` are what is given."""
        return self.wire.send("ExecuteScript", script=f"return ({expression});", args=list(given))

    def promised(self, expression: str, *given: Any) -> Any:
        """The value that a promise in the page comes to."""
        script = f"const done = arguments[arguments.length - 1]; ({expression}).then(done, (error) => done(`${{error}}`));"
        return self.wire.send("ExecuteAsyncScript", script=script, args=list(given))

    def wait(self, expression: str) -> Any:
        """The value of an expression once it is true: a page that is left or on its way has not yet what is asked for."""
        return until(lambda: self.evaluate(expression), expression, (Refused,))

    def element(self, selector: str) -> str:
        """The first element that is seen: of two, one is for another width of the screen."""
        seen = f"[...document.querySelectorAll({selector!r})].find((each) => each.checkVisibility())"
        return str(until(lambda: self.evaluate(seen), f"{selector} to be seen", (Refused,))[ELEMENT])

    def click(self, selector: str) -> None:
        until(lambda: self.clicked(selector), f"{selector} to be clicked")

    def clicked(self, selector: str) -> bool:
        """Whether it could be: a list that is still drawn, or moving, cannot."""
        try:
            self.wire.send("ElementClick", id=self.element(selector))
        except Refused as error:
            if not any(word in str(error) for word in NOT_YET):
                raise
            return False
        return True

    def type(self, selector: str, text: str) -> None:
        """Put a text into a box by its keys, in place of what stands there."""
        box = self.element(selector)
        self.wire.send("ElementClear", id=box)
        self.wire.send("ElementSendKeys", id=box, text=text)

    def text(self, selector: str) -> str:
        self.wait(f"document.querySelector({selector!r})")
        return str(self.evaluate(f"document.querySelector({selector!r}).innerText.trim()"))

    def value(self, selector: str) -> str:
        self.wait(f"document.querySelector({selector!r})")
        return str(self.evaluate(f"document.querySelector({selector!r}).value"))


@contextmanager
def tab(firefox: Marionette) -> Iterator[Marionette]:
    """A tab of its own, with nothing stored for any file."""
    firefox.own(FORGET)
    made = firefox.send("NewWindow", type="tab")["handle"]
    firefox.send("SwitchToWindow", handle=made)
    yield firefox
    left = firefox.send("CloseWindow")
    firefox.send("SwitchToWindow", handle=left[0])
