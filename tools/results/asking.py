"""How a question to a calculator is put: in the operator's units, by their rules and their own figures."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import calculators
from tools.book.answers import Work
from tools.book.answers import put as question

if TYPE_CHECKING:
    from tools.book.data import OperatorData

__all__ = ["brief", "question", "report"]


def report(data: OperatorData, name: str, inputs: Mapping[str, Any], work: Work = calculators.run) -> dict[str, Any]:
    """A calculator's whole answer; not to be changed."""
    answer: dict[str, Any] = data.answers.ask(question(data, name, inputs, work))
    return answer


def brief(name: str, request: dict[str, Any]) -> dict[str, Any]:
    """A calculator's answer when it is stopped at once: without what it would find by searching or playing."""
    steps = calculators.get(name).steps(request)
    try:
        next(steps)
        while True:
            steps.send(True)
    except StopIteration as end:
        answer: dict[str, Any] = end.value
        return answer
