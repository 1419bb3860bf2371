"""What a builder remembers from one build to the next, for as long as its process lives."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

Made = TypeVar("Made")


class Memory:
    """What was made of a handbook's data, by name: all of it is forgotten as soon as the data is another.

    What is remembered is never changed by who asks for it.
    """

    def __init__(self) -> None:
        self.state = ""
        self._held: dict[str, Any] = {}

    def begin(self, state: str) -> None:
        """Begin a build: ``state`` is the hash of all that what is remembered may rest on."""
        if state != self.state:
            self._held.clear()
        self.state = state

    def get(self, name: str) -> Any:
        """What is remembered under a name; None where nothing is."""
        return self._held.get(name)

    def put(self, name: str, made: Made) -> Made:
        """Remember it, and return it."""
        self._held[name] = made
        return made

    def of(self, name: str, make: Callable[[], Made]) -> Made:
        """What is remembered under a name, or else what ``make`` gives."""
        if name not in self._held:
            self._held[name] = make()
        made: Made = self._held[name]
        return made
