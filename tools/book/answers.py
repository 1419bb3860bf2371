"""Who answers a handbook's questions to the calculators: here each is worked out when it is asked."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, NamedTuple

Work = Callable[[str, dict[str, Any]], Any]
Tell = Callable[[int, int], object]
"""Told how many are done, of how many."""


class Question(NamedTuple):
    """A request and the function of a module that answers it; the answer is plain data."""

    work: Work
    name: str
    request: dict[str, Any]


def silent(done: int, total: int) -> None:
    """Tell nobody."""


class Answers:
    """Answers that are kept nowhere; ``tools/results/kept.py`` keeps them on disk."""

    def ask(self, question: Question) -> Any:
        """The answer, not to be changed; raises what the work raises."""
        return question.work(question.name, question.request)

    def prepare(self, questions: Iterable[Question], tell: Tell = silent) -> None:
        """Have answers ready that will be asked for, where that is of use."""
