"""Answers of the calculators kept on disk, each under the hash of its question.

A cell that changes changes a few questions; all others are answered from here. Whatever could change an
answer otherwise (our code, the rules, Python itself) is one mark, and answers of another mark are dropped.
An entry that is damaged, or stands under another's name, is as good as none. What stands behind a report has an
entry beside the report's own, so that pages of a thousand sites need not read it.
"""

from __future__ import annotations

import contextlib
import hashlib
import itertools
import json
import math
import multiprocessing
import sys
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path
from typing import Any

from calculators.core import CalculatorError
from tools import sealed
from tools.book.answers import BEHIND, Answers, Question, Tell, silent

FEW = 8  # questions that are answered before a second process has begun
AT_ONCE = 4  # questions handed to a process together
# A process that has planned a cabinet knows what fits it, for its next plan. These also take longest, so they go first.
PLANNER = "plan"
CABINET = ("products", "trays", "coils")
# One that has played a float knows who comes to a set-up, so that where less is sold there is little left to play.
FLOAT, SOLD = "float", ("sales_per_day", "days")
FLOATS = 24  # of one set-up that a process is handed together
TUPLE = "()"
MARKED = f'"{TUPLE}": '.encode()


class Kept(Answers):
    """Answers in a folder. ``mark`` is the hash of all that answers them; ``workers`` as many processes."""

    def __init__(self, folder: Path, mark: str, workers: int = 1) -> None:
        self.folder = folder
        self.mark = mark
        self.workers = workers
        self._used: set[Path] = set()
        self._pool: ProcessPoolExecutor | None = None
        self._within = 0

    def ask(self, question: Question) -> Any:
        """The kept answer, or else one that is worked out and kept."""
        path = self._path(question)
        with contextlib.suppress(OSError, ValueError):
            return _joined(read(sealed.read(path)), path)
        answer = super().ask(question)
        with contextlib.suppress(OSError, TypeError):  # no room, or nothing that can be kept
            _keep(answer, path)
        return answer

    def told(self, question: Question) -> Any:
        """The same without what stands behind it, which is not read."""
        path = self._path(question)
        with contextlib.suppress(OSError, ValueError):
            answer = read(sealed.read(path))
            return {key: part for key, part in answer.items() if key not in BEHIND} if isinstance(answer, dict) else answer
        return super().told(question)

    def prepare(self, questions: Iterable[Question], tell: Tell = silent) -> None:
        """Work out what is lacking, in several processes where there is enough of it."""
        found = {self._path(each): each for each in questions}
        lacking = [each for path, each in found.items() if not path.is_file()]
        with self.at_work():
            if len(lacking) >= FEW and self.workers > 1 and self._together(lacking, tell):
                return
        for number, each in enumerate(itertools.chain.from_iterable(_parts(lacking)), 1):
            _answer(self, each)
            tell(number, len(lacking))

    @contextlib.contextmanager
    def at_work(self) -> Iterator[None]:
        """Processes that are begun meanwhile stay: each takes a third of a second to begin."""
        self._within += 1
        try:
            yield
        finally:
            self._within -= 1
            if not self._within and self._pool:
                self._pool.shutdown()
                self._pool = None

    def forget_unused(self) -> None:
        """Drop every answer that nobody asked for since this began."""
        sealed.forget(self.folder, self._used)

    def _path(self, question: Question) -> Path:
        work, name, request = question
        # In the order in which it was put: an answer may repeat its inputs in theirs.
        told = json.dumps([self.mark, sys.version, work.__module__, work.__qualname__, name, request])
        key = hashlib.sha256(told.encode()).hexdigest()
        path = self.folder / key[:2] / key
        self._used |= {path, _behind(path)}
        return path

    def _together(self, lacking: Sequence[Question], tell: Tell) -> bool:
        """Whether other processes answered them all; where there can be none, nothing is lost."""
        try:
            # Begun anew, not forked: the same on every system, and safe beside threads.
            pool = self._pool = self._pool or ProcessPoolExecutor(self.workers, multiprocessing.get_context("spawn"))
            begun = [pool.submit(_answer_all, self.folder, self.mark, part) for part in _parts(lacking)]
            try:
                _follow(begun, len(lacking), tell)
            except BaseException:  # Ctrl-C too: leaving the pool would wait for all that has not begun
                pool.shutdown(wait=False, cancel_futures=True)
                raise
        except (BrokenProcessPool, OSError):
            return False
        return True


def _parts(questions: Sequence[Question]) -> list[list[Question]]:
    """Questions that a process is handed together: all plans of a cabinet first, floats by set-up, then others as they come."""
    plans: dict[str, list[Question]] = {}
    floats: dict[str, list[Question]] = {}
    others = []
    for each in questions:
        inputs = each.request.get("inputs", {})
        if each.name == PLANNER:
            plans.setdefault(json.dumps([inputs.get(key) for key in CABINET]), []).append(each)
        elif each.name == FLOAT:
            floats.setdefault(json.dumps({key: value for key, value in inputs.items() if key not in SOLD}), []).append(each)
        else:
            others.append(each)
    sorted_ = [sorted(each, key=_sold, reverse=True) for each in floats.values()]
    return [*plans.values(), *(part for each in sorted_ for part in _cut(each, FLOATS)), *_cut(others, AT_ONCE)]


def _cut(questions: list[Question], size: int) -> list[list[Question]]:
    return [questions[start : start + size] for start in range(0, len(questions), size)]


def _sold(question: Question) -> float:
    """What is sold until the next visit, as far as it is typed as a plain number."""
    try:
        return math.prod(float(question.request["inputs"].get(key, "")) for key in SOLD)
    except ValueError:
        return 0.0


def _keep(answer: Any, path: Path) -> None:
    """Write an answer down, what stands behind it first: whoever finds the one will find the other."""
    parts = BEHIND.intersection(answer) if isinstance(answer, dict) else ()
    if parts:
        sealed.write(_behind(path), written({key: answer[key] for key in answer if key in parts}))
        answer = {key: None if key in parts else part for key, part in answer.items()}
    sealed.write(path, written(answer))


def _joined(answer: Any, path: Path) -> Any:
    """A whole answer; OSError or ValueError where what stands behind it is not there."""
    if not isinstance(answer, dict) or BEHIND.isdisjoint(answer):
        return answer
    behind = read(sealed.read(_behind(path)))
    return {key: behind[key] if key in BEHIND else part for key, part in answer.items()}


def _behind(path: Path) -> Path:
    return path.with_name(f"{path.name}-behind")


def _follow(begun: Sequence[Future[int]], total: int, tell: Tell) -> None:
    done = 0
    for each in as_completed(begun):
        done += each.result()
        tell(done, total)


def _answer_all(folder: Path, mark: str, questions: Sequence[Question]) -> int:
    """In a process of its own: the answers go to disk, where the first process finds them."""
    kept = Kept(folder, mark)
    for each in questions:
        _answer(kept, each)
    return len(questions)


def _answer(kept: Kept, question: Question) -> None:
    with contextlib.suppress(CalculatorError):  # told where the answer is asked for
        kept.ask(question)


def written(answer: Any) -> bytes:
    """Plain data as JSON, in which tuples stay tuples; TypeError where it is none."""
    text = json.dumps(answer, ensure_ascii=False).encode()
    # Nearly every answer comes back as it was; only one that does not is gone through piece by piece.
    if MARKED in text or json.loads(text) != answer:
        text = json.dumps(_tagged(answer), ensure_ascii=False).encode()
    return text


def read(text: bytes) -> Any:
    """What :func:`written` wrote, equal in every type."""
    # Looking at every object takes most of the time, and few answers hold a tuple.
    return json.loads(text, object_hook=_untagged) if MARKED in text else json.loads(text)


def _tagged(value: Any) -> Any:
    """Plain data with tuples marked, which JSON would take for lists."""
    if isinstance(value, dict):
        if not all(isinstance(key, str) and key != TUPLE for key in value):
            raise TypeError(f"{value} has a key that JSON does not keep")
        return {key: _tagged(each) for key, each in value.items()}
    if isinstance(value, tuple):
        return {TUPLE: [_tagged(each) for each in value]}
    return [_tagged(each) for each in value] if isinstance(value, list) else value


def _untagged(found: dict[str, Any]) -> Any:
    return tuple(found[TUPLE]) if TUPLE in found else found
