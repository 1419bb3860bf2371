"""The fuzz: what it calls a bad answer, and what requests it makes."""

from __future__ import annotations

import importlib
import json
from collections.abc import Iterator
from typing import Any

import pytest

import calculators
from tools.commands import fuzz
from tools.fuzzing import inpage, judge, requests, targets

GOOD = '{"outcome": "pass"}'
SOON = '{"progress": {"text": "…", "share": null}}'


class Clock:
    """Processor time as a fake calculation spends it."""

    def __init__(self) -> None:
        self.now = 0.0


class Fake:
    """A calculation that takes given seconds for each answer; stopped, it goes on with others."""

    def __init__(self, clock: Clock, steps: list[tuple[float, str]], after: list[tuple[float, str]]) -> None:
        self.clock, self.steps, self.after = clock, iter(steps), iter(after)
        self.stopped = False

    def advance(self) -> str:
        seconds, answer = next(self.after if self.stopped else self.steps)
        self.clock.now += seconds
        return answer

    def stop(self) -> None:
        self.stopped = True


@pytest.fixture
def fault(monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    clock = Clock()
    monkeypatch.setattr(judge.time, "process_time", lambda: clock.now)

    def judged(steps: list[tuple[float, str]], after: list[tuple[float, str]], slower: float = 1.0) -> str | None:
        monkeypatch.setattr(calculators, "begin_json", lambda *_: Fake(clock, steps, after))
        return judge.fault("level", "{}", slower)

    return judged  # type: ignore[return-value]


def test_two_seconds_of_silence_are_too_many(fault: Any) -> None:
    assert fault([(1.9, GOOD)], []) is None
    assert fault([(2.1, GOOD)], []) == "no progress in time"
    assert fault([(1.9, SOON), (1.9, GOOD)], []) is None
    assert fault([(0.1, SOON), (2.1, SOON)], []) == "no progress in time"
    assert fault([(2.1, GOOD)], [], slower=2.0) is None


def test_a_stop_is_obeyed_within_two_seconds(fault: Any) -> None:
    """However often it says that it goes on."""
    going = [(1.5, SOON)] * 3
    assert fault(going, [(0.5, SOON), (0.5, SOON), (0.9, GOOD)]) is None
    assert fault(going, [(0.5, SOON), (0.5, SOON), (1.1, GOOD)]) == "no answer in time after a stop"
    assert fault([(1.4, SOON), (1.5, SOON), (1.5, GOOD)], []) is None, "nobody stops it before three seconds"


@pytest.mark.parametrize(
    ("answer", "why"),
    [(GOOD, None), ('{"errors": []}', None), ("{}", "neither"), ('{"errors": [], "outcome": "pass"}', "neither"),
     ('{"outcome": NaN}', "NaN"), ('{"outcome": -Infinity}', "-Infinity"), ("{", "no JSON"), ("", "no JSON"),
     ('{"outcome": "\ud800"}', "no JSON in UTF-8"), ('{"errors": [], "fault": "KeyError: 1"}', "fault: KeyError")],
)  # fmt: skip
def test_what_is_wrong_with_an_answer_is_told(answer: str, why: str | None) -> None:
    told = judge.wrong(answer)
    assert told is None if why is None else why in (told or "")


def test_a_found_text_is_made_as_small_as_it_stays_bad() -> None:
    text = json.dumps({"units": "si", "inputs": {"a": 1, "b": {"c": 2, "d": 3}}, "rules": "uk"})
    small = judge.smallest("x", text, lambda _, tried: '"c"' in tried)
    assert json.loads(small) == {"inputs": {"b": {"c": 2}}}
    assert judge.smallest("x", "[" * 5, lambda *_: True) == "[" * 5
    assert judge.smallest("x", text, lambda _, tried: tried == text) == text


@pytest.mark.parametrize("name", calculators.NAMES)
def test_requests_are_made_of_requests(name: str) -> None:
    """Seeds are good requests; what is made of them is JSON, mostly another, some of it refused."""
    seeds = requests.seeds(name)
    assert [json.loads(calculators.run_json(name, requests.text_of(seed))).get("errors") for seed in seeds[:2]] == [None, None]
    made, data = set(), seeds[0]
    for seed in range(120):
        data = requests.changed(name, data, seed)
        assert isinstance(json.loads(requests.text_of(data)), dict)
        made.add(data)
        assert len(data) < 20_000, "a request of requests stays one that a person could read"
    assert len(made) > 90
    assert requests.changed(name, seeds[0], 5) == requests.changed(name, seeds[0], 5)
    assert requests.changed(name, b"\xff[", 1) == b"\xff["


def test_bytes_that_are_no_text_become_a_text_that_is_none() -> None:
    assert requests.text_of(b"\xff") == "\udcff"
    for text in ("ü\ud800", "\udcff", "plain"):
        assert requests.text_of(requests.data_of(text)) == text, "there and back it is the same, and no longer"


@pytest.mark.parametrize("name", targets.TARGETS)
def test_a_target_takes_its_seeds_and_what_is_made_of_them(name: str) -> None:
    """Good inputs are taken; others near them are made by the seed alone, and taken or refused in words."""
    target = targets.of(name)
    good = target.seeds()[0]
    assert target.fault(good) is None
    made = [target.changed(good, seed) for seed in range(12)]
    assert made == [target.changed(good, seed) for seed in range(12)]
    assert len(set(made)) > 9
    assert [target.fault(each) for each in made[:3]] == [None] * 3


@pytest.mark.parametrize(("name", "place", "reader"), [
    ("blocks", "tools.pages.procedures", "check"), ("tables", "tools.book.data", "load"), ("workbooks", "tools.book.data", "load"),
])  # fmt: skip
def test_a_target_tells_what_breaks_off(name: str, place: str, reader: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise IndexError("row 3")

    target = targets.of(name)
    good = target.seeds()[0]
    monkeypatch.setattr(importlib.import_module(place), reader, broken)
    assert target.fault(good) == "IndexError: row 3"


def test_a_damaged_workbook_is_changed_all_the_same() -> None:
    """Also where its packing is read and its parts cannot be: the fuzzer would hang on an error of its own."""
    target = targets.of("workbooks")
    good = target.seeds()[0]
    for place in range(30, len(good), 97):
        damaged = good[:place] + bytes([good[place] ^ 0xFF]) + good[place + 1 :]
        assert isinstance(target.changed(damaged, 1), bytes)


def test_a_log_that_breaks_off_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judge, "fault", lambda name, text: f"{name} {json.loads(text)['inputs'][targets.LOG]}")
    assert targets.of("logs").fault(b"a\xff") == "cold a\ufffd"


def test_each_target_has_fuzzers_of_its_own() -> None:
    assert [job.said for job in fuzz.jobs_of("blocks", 9, 60)] == ["blocks"]
    assert [job.said for job in fuzz.jobs_of("door", 1000, 60)] == list(fuzz.SHARES)
    assert set(fuzz.GUIDED) == {"door", *targets.TARGETS}
    assert set(fuzz.IN_PAGE) == set(inpage.PAGES)


def test_every_calculator_gets_its_share() -> None:
    assert set(fuzz.SHARES) == set(calculators.NAMES)
    assert sum(fuzz.SHARES.values()) == pytest.approx(1)
