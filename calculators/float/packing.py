"""Several small whole numbers packed into one integer, so that one operation works on all of them."""

from __future__ import annotations

from collections.abc import Sequence


class Layout:
    """Fields packed into one integer; ``tops`` are the greatest value or need of each.

    Each field has a guard bit on top: where a state has all guards set, a subtraction that
    clears one has found a field that is too small. The first ``even`` fields share one width,
    so that :meth:`cut` can treat them alike.
    """

    def __init__(self, tops: Sequence[int], even: int) -> None:
        self.shifts: list[int] = []
        self.masks: list[int] = []
        self.guards: list[int] = []
        self._widest = max(top.bit_length() for top in tops[:even])
        at = 0
        for place, top in enumerate(tops):
            bits = self._widest if place < even else top.bit_length()
            self.shifts.append(at)
            self.masks.append((1 << bits) - 1)
            self.guards.append(1 << (at + bits))
            at += bits + 1
        self.guard = sum(self.guards)
        self._even = (1 << even * (self._widest + 1)) - 1
        self._even_guard = sum(self.guards[:even])

    def pack(self, values: Sequence[int]) -> int:
        """The fields as one integer, guards not set; values may be negative (a step)."""
        return sum(value << shift for value, shift in zip(values, self.shifts, strict=True))

    def read(self, state: int, index: int) -> int:
        """One field of a state."""
        return state >> self.shifts[index] & self.masks[index]

    def pack_tops(self, tops: Sequence[int]) -> int:
        """Tops of the even fields for :meth:`cut`; one that a field cannot hold never cuts it."""
        shifts = zip(tops, self.shifts, self.masks, strict=False)
        return sum(min(top, mask) << shift for top, shift, mask in shifts) | self._even_guard

    def cut(self, state: int, tops: int) -> int:
        """The even fields of a state, each no more than its packed top.

        ``tops`` has its guards set like the state; both keep theirs, which tell nothing.
        """
        fields = state & self._even
        larger = (fields - (tops ^ self._even_guard)) & self._even_guard
        chosen = larger - (larger >> self._widest)  # all ones where the top is the smaller
        return fields ^ ((fields ^ tops) & chosen)
