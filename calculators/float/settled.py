"""What single lanes were found to do where no rule settles it for all of them, remembered by their coins."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from .machine import Machine
from .payout import Counts

MOST = 200_000  # answers kept; a phone's memory is the limit
Answer = TypeVar("Answer")
Memory = dict[tuple[int, Counts], Answer]


class Settled:
    """A machine's answers at so many coins in the tubes, by the number of a sale."""

    def __init__(self, machine: Machine) -> None:
        self._machine = machine
        self._taken: Memory[bool] = {}
        self._paid: Memory[Counts | None] = {}

    def accepts(self, counts: Counts, number: int) -> bool:
        """Whether every note of a sale is let in."""
        return _kept(self._taken, (number, counts), lambda: self._machine.accepts(counts, number))

    def change(self, counts: Counts, number: int) -> Counts | None:
        """The coins that a sale gives back; None where it cannot."""
        setup = self._machine.setup
        due = setup.sales[number].change
        return _kept(self._paid, (number, counts), lambda: setup.payer(setup.coins, counts, due))


def _kept(memory: Memory[Answer], key: tuple[int, Counts], work: Callable[[], Answer]) -> Answer:
    if key not in memory:
        if len(memory) >= MOST:
            memory.clear()
        memory[key] = work()
    return memory[key]
