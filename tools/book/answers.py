"""Who answers a handbook's questions to the calculators: here each is worked out when it is asked."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import AbstractContextManager, nullcontext
from typing import TYPE_CHECKING, Any, NamedTuple

import calculators

if TYPE_CHECKING:
    from .data import OperatorData

Work = Callable[[str, dict[str, Any]], Any]
Tell = Callable[[int, int], object]
"""Told how many are done, of how many."""


# Two thirds of a report, which no page about a site or a product shows: how it came about, and the inputs again.
BEHIND = frozenset({"working", "sources", "html", "inputs"})


class Question(NamedTuple):
    """A request and the function of a module that answers it; the answer is plain data."""

    work: Work
    name: str
    request: dict[str, Any]


def put(data: OperatorData, name: str, inputs: Mapping[str, Any], work: Work = calculators.run) -> Question:
    """A question about typed inputs: in the operator's units, by their rules and their own figures."""
    return Question(work, name, {"units": data.units, "rules": data.rules.name, "local": data.local,
                                 "inputs": inputs})  # fmt: skip


def silent(done: int, total: int) -> None:
    """Tell nobody."""


class Answers:
    """Answers that are kept nowhere; ``tools/results/kept.py`` keeps them on disk."""

    def ask(self, question: Question) -> Any:
        """The answer, not to be changed; raises what the work raises."""
        return question.work(question.name, question.request)

    def told(self, question: Question) -> Any:
        """The answer as pages tell it, without what stands behind it: :data:`BEHIND`."""
        answer = self.ask(question)
        return {key: part for key, part in answer.items() if key not in BEHIND} if isinstance(answer, dict) else answer

    def prepare(self, questions: Iterable[Question], tell: Tell = silent) -> None:
        """Have answers ready that will be asked for, where that is of use."""

    def at_work(self) -> AbstractContextManager[None]:
        """Whoever prepares several times does so within this: what helps with it is begun once."""
        return nullcontext()
