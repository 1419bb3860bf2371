"""Answers kept on disk: the same as fresh ones, seen through when anything changed, never trusted when damaged."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path
from typing import Any, ClassVar

import pytest

import calculators
from calculators.core import InputErrors
from tests.conftest import KEPT
from tools import sealed
from tools.book.answers import Answers, Question
from tools.book.data import load
from tools.commands import build, place
from tools.results import ahead, coils, kept, siteplan, sites, visits
from tools.results.kept import Kept

DEMO = Path(__file__).parents[2] / "docs" / "data"
DATA = load(DEMO)


def same(first: Any, second: Any) -> bool:
    """Whether two values are equal in every part and every type, which ``==`` of 1 and 1.0 does not say."""
    if type(first) is not type(second):
        return False
    if isinstance(first, dict):
        return list(first) == list(second) and all(same(first[key], second[key]) for key in first)
    if isinstance(first, (list, tuple)):
        return len(first) == len(second) and all(map(same, first, second))
    return bool(first == second)


class Counted:
    """Answers with what it was asked and how often it worked."""

    def __init__(self) -> None:
        self.__qualname__ = "counted"  # as a function has one
        self.worked = 0

    def __call__(self, name: str, request: dict[str, Any]) -> Any:
        self.worked += 1
        return {"name": name, "pair": (1, [2.5, None]), **request}


def test_what_is_kept_of_every_site_is_what_was_worked_out(tmp_path: Path) -> None:
    """All reports of all sites, in every type; a tuple does not come back as a list."""
    store = Kept(tmp_path, "mark")
    for row in DATA.tables["sites"]:
        for name, question in sites.questions(DATA, row.typed["key"]).items():
            fresh = store.ask(question)
            assert fresh["calculator"] == name
            assert same(Kept(tmp_path, "mark").ask(question), fresh)
    assert not same({"a": (1,)}, {"a": [1]})


def test_a_ranking_of_coils_comes_back_as_it_was(tmp_path: Path) -> None:
    store = Kept(tmp_path, "mark")
    for product in ("still-water", "salt-crisps", "egg-wedge"):
        question = coils.ranked_question(DATA, "tall-forty", product)
        fresh = store.ask(question)
        assert same(Kept(tmp_path, "mark").ask(question), fresh)
        assert [each["coil"] for each in fresh]


@pytest.mark.parametrize("damage", ["gone", "short", "foreign"])
def test_what_a_page_tells_is_read_without_what_stands_behind_it(damage: str, tmp_path: Path) -> None:
    """All else of the report, in order; the whole answer is worked out anew where that is not there as it was."""
    work = Counted()
    question = Question(work, "level", {"working": [1], "checks": ({"key": "a"},), "sources": [], "html": "<p>", "inputs": {"a": "b"}})
    whole = Kept(tmp_path, "mark").ask(question)
    assert same(Kept(tmp_path, "mark").ask(question), whole)
    [path] = behind(tmp_path)
    if damage == "gone":
        path.unlink()
    else:
        path.write_bytes(path.read_bytes()[:-1] if damage == "short" else b"x" * 40)
    told = {"name": "level", "pair": (1, [2.5, None]), "checks": ({"key": "a"},)}
    assert same(Kept(tmp_path, "mark").told(question), told)
    assert same(Answers().told(question), told)
    assert work.worked == 2
    assert same(Kept(tmp_path, "mark").ask(question), whole)
    assert work.worked == 3
    assert behind(tmp_path) == [path]
    assert same(Kept(tmp_path, "mark").ask(question), whole)
    assert work.worked == 3


def test_nothing_is_worked_out_twice_unless_something_changed(tmp_path: Path) -> None:
    """An input, a unit, a figure of their own, the name of the calculator, the mark of code and rules."""
    work = Counted()
    request = {"units": "us", "rules": "us", "local": {}, "inputs": {"width": "36 in"}}
    for _ in range(2):
        Kept(tmp_path, "mark").ask(Question(work, "clearance", request))
    assert work.worked == 1
    changed = [
        ("clearance", {**request, "inputs": {"width": "37 in"}}), ("circuit", request),
        ("clearance", {**request, "units": "si"}), ("clearance", {**request, "rules": "uk"}),
        ("clearance", {**request, "local": {"space.rear_gap": {"value": 6}}}),
    ]  # fmt: skip
    for number, (name, each) in enumerate(changed, 2):
        assert Kept(tmp_path, "mark").ask(Question(work, name, each))["name"] == name
        assert work.worked == number
    Kept(tmp_path, "another mark").ask(Question(work, "clearance", request))
    assert work.worked == 2 + len(changed)


@pytest.mark.parametrize("part", [("calculators", "rules.toml"), ("calculators", "solve.py"), ("tools/results", "coils.py")])
def test_a_changed_rule_or_line_of_code_changes_the_mark(part: tuple[str, str], tmp_path: Path,
                                                         monkeypatch: pytest.MonkeyPatch) -> None:  # fmt: skip
    """So do a new file and one that is gone."""
    for folder in ("calculators", "tools/results"):
        (tmp_path / folder).mkdir(parents=True)
    monkeypatch.setattr(build, "ROOT", tmp_path)
    here = place.Place(tmp_path, tmp_path / "site", tmp_path / "work")
    marks = [build.answers(here).mark]
    for text in ("value = 1\n", "value = 2\n"):
        (tmp_path / part[0] / part[1]).write_text(text, encoding="utf-8")
        marks.append(build.answers(here).mark)
    assert len(set(marks)) == 3


def entry_of(folder: Path) -> Path:
    return next(path for path in sorted(folder.rglob("*")) if path.is_file())


@pytest.mark.parametrize("damage", ["flipped", "short", "empty", "foreign"])
def test_a_damaged_or_foreign_entry_is_worked_out_anew(damage: str, tmp_path: Path) -> None:
    """Wherever it is damaged; what is there afterwards is whole again."""
    work = Counted()
    question = Question(work, "level", {"inputs": {"a": "b"}})
    fresh = Kept(tmp_path, "mark").ask(question)
    path = entry_of(tmp_path)
    whole = path.read_bytes()
    sealed.write(tmp_path / "another name", kept.written({"name": "outlet"}))
    other = (tmp_path / "another name").read_bytes()
    damaged = {"flipped": [whole[:at] + bytes([whole[at] ^ 4]) + whole[at + 1 :] for at in range(len(whole))],
               "short": [whole[:-1], whole[:40], whole[:10]], "empty": [b""], "foreign": [other]}[damage]  # fmt: skip
    for number, each in enumerate(damaged, 2):
        path.write_bytes(each)
        assert same(Kept(tmp_path, "mark").ask(question), fresh)
        assert work.worked == number
        assert path.read_bytes() == whole


def test_an_answer_that_cannot_be_kept_is_given_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk, and data with keys that JSON would change; nothing half written stays."""
    question = Question(Counted(), "level", {"inputs": {}})

    def full(self: Path, data: bytes) -> int:
        self.touch()
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "write_bytes", full)
        assert Kept(tmp_path, "mark").ask(question)["name"] == "level"
    odd = Question(lambda *_: {1: "one"}, "level", {})
    assert Kept(tmp_path, "mark").ask(odd) == {1: "one"}
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


def test_what_a_calculator_refuses_is_refused_each_time(tmp_path: Path) -> None:
    """Whoever asks is told, also where it was tried beforehand."""
    question = Question(calculators.run, "level", {"inputs": {"span_x": "no length"}})
    store = Kept(tmp_path, "mark")
    store.prepare([question])
    for _ in range(2):
        with pytest.raises(InputErrors):
            store.ask(question)


def test_answers_nobody_asked_for_are_dropped(tmp_path: Path) -> None:
    """What an earlier state of the data or another mark left; those asked for, or made ready, stay."""
    work = Counted()
    first, second, third = (Question(work, "level", {"inputs": {"a": number}}) for number in "123")
    for mark in ("old", "mark"):
        for each in (first, second, third):
            Kept(tmp_path, mark).ask(each)
    store = Kept(tmp_path, "mark")
    store.ask(first)
    store.prepare([second])
    store.forget_unused()
    assert len(entries(tmp_path)) == len(behind(tmp_path)) * 2 == 4
    worked = work.worked
    assert Kept(tmp_path, "mark").ask(first)["inputs"] == {"a": "1"}
    assert Kept(tmp_path, "mark").ask(second)["inputs"] == {"a": "2"}
    assert work.worked == worked


QUESTIONS = [Question(calculators.run, name, {"inputs": dict(calculators.get(name).example), "units": units})
             for name in ("level", "outlet", "clearance", "circuit") for units in ("us", "si")]  # fmt: skip


def entries(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def behind(folder: Path) -> list[Path]:
    """The entries of what stands behind a report: one beside each report's own."""
    return [path for path in folder.rglob("*") if path.name.endswith("-behind")]


def test_two_processes_leave_what_one_leaves(tmp_path: Path) -> None:
    """To the byte; and the count of what is done ends at the whole."""
    told: list[tuple[int, int]] = []
    Kept(tmp_path / "one", "mark").prepare(QUESTIONS)
    Kept(tmp_path / "two", "mark", workers=2).prepare(QUESTIONS, lambda done, total: told.append((done, total)))
    assert len(entries(tmp_path / "one")) == 2 * len(behind(tmp_path / "one")) == 2 * len(QUESTIONS) >= 2 * kept.FEW
    assert entries(tmp_path / "one") == entries(tmp_path / "two")
    assert told[-1] == (len(QUESTIONS), len(QUESTIONS))
    assert all(done % kept.AT_ONCE == 0 for done, _ in told)  # by parts, as other processes hand them over


def test_all_plans_of_a_cabinet_go_to_one_process_and_go_first() -> None:
    """What fits a cabinet is tried once for all its plans; all else is handed over a few at a time."""
    rows = {"products": [{"name": "a"}], "trays": [{"lanes": "4"}], "coils": []}
    plans = [Question(calculators.run, "plan", {"inputs": {**rows, "days": str(days)}}) for days in range(6)]
    other = [Question(calculators.run, "plan", {"inputs": {**rows, "trays": [{"lanes": "5"}], "days": str(days)}}) for days in range(2)]
    parts = kept._parts([QUESTIONS[0], plans[0], *other, *QUESTIONS[1:], *plans[1:]])
    assert parts[:2] == [plans, other]
    assert [each for part in parts[2:] for each in part] == QUESTIONS
    assert {len(part) for part in parts[2:]} == {kept.AT_ONCE}


def test_floats_of_a_set_up_go_to_one_process_those_that_sell_most_first() -> None:
    """What it played for the first tells nearly all that the others ask; a number that is not plain comes last."""
    def asked(tubes: str, sales: str, days: str) -> Question:
        return Question(calculators.run, "float", {"inputs": {"tubes": [{"coin": tubes}], "sales_per_day": sales, "days": days}})

    first = [asked("quarter", "12", "7"), asked("quarter", "9.5", "7"), asked("quarter", "12", "2"), asked("quarter", "a dozen", "7")]
    other = [asked("dime", str(number), "7") for number in range(kept.FLOATS + 1, 0, -1)]
    mixed = [first[3], other[2], first[1], QUESTIONS[0], first[0], *other[3:], other[0], first[2], other[1]]
    assert kept._parts(mixed) == [first, other[: kept.FLOATS], other[kept.FLOATS :], [QUESTIONS[0]]]


@pytest.mark.parametrize("error", [OSError("no more processes"), BrokenProcessPool("killed")])
def test_where_there_can_be_no_second_process_one_does_it_all(error: Exception, tmp_path: Path,
                                                              monkeypatch: pytest.MonkeyPatch) -> None:  # fmt: skip
    def none(*_: object) -> None:
        raise error

    monkeypatch.setattr(kept, "ProcessPoolExecutor", none)
    store = Kept(tmp_path, "mark", workers=2)
    store.prepare(QUESTIONS)
    assert len(behind(tmp_path)) == len(QUESTIONS)


class Pool(ProcessPoolExecutor):
    """Notes how it was left."""

    left: ClassVar[list[dict[str, bool]]] = []

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        self.left.append({"wait": wait, "cancel_futures": cancel_futures})
        super().shutdown(wait, cancel_futures=cancel_futures)


def test_who_stops_it_waits_for_nothing_that_has_not_begun(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C goes out, and first all is called back that no process has taken up."""

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(kept, "ProcessPoolExecutor", Pool)
    Pool.left.clear()
    with pytest.raises(KeyboardInterrupt):
        Kept(tmp_path, "mark", workers=2).prepare(QUESTIONS, stop)
    assert Pool.left[0] == {"wait": False, "cancel_futures": True}


def test_processes_stay_for_all_that_is_prepared_together_and_are_gone_afterwards(tmp_path: Path,
                                                                                  monkeypatch: pytest.MonkeyPatch) -> None:  # fmt: skip
    """Also where one lot is prepared by itself; a process that is left would keep a build from ending."""
    monkeypatch.setattr(kept, "ProcessPoolExecutor", Pool)
    Pool.left.clear()
    store = Kept(tmp_path, "mark", workers=2)
    more = [question._replace(request={**question.request, "rules": "uk"}) for question in QUESTIONS]
    with store.at_work():
        store.prepare(QUESTIONS)
        assert Pool.left == []
        store.prepare(more)
        assert Pool.left == []
    assert len(Pool.left) == 1
    store.prepare([question._replace(request={**question.request, "rules": "eu"}) for question in QUESTIONS])
    assert Pool.left == [{"wait": True, "cancel_futures": False}] * 2
    assert len(behind(tmp_path)) == 3 * len(QUESTIONS)


class Asked(Answers):
    """Remembers what it had ready and what it was asked."""

    def __init__(self) -> None:
        self.ready: list[str] = []
        self.asked: list[str] = []

    def ask(self, question: Question) -> Any:
        self.asked.append(repr(question))
        return super().ask(question)

    def prepare(self, questions: Any, tell: Any = None) -> None:
        self.ready += map(repr, questions)


class Rounds(Answers):
    """Works out what it is to have ready, and remembers in which round; what is asked otherwise it counts as late."""

    def __init__(self) -> None:
        self.rounds: list[list[str]] = []
        self.worked: list[str] = []
        self.late: list[str] = []
        self._known: dict[str, Any] = {}

    def ask(self, question: Question) -> Any:
        if repr(question) not in self._known:
            self.late.append(question.name)
            self._work(question)
        return self._known[repr(question)]

    def prepare(self, questions: Any, tell: Any = None) -> None:
        asked = list(questions)
        self.rounds.append([each.name for each in asked])
        for each in asked:
            if repr(each) not in self._known:
                self._work(each)

    def _work(self, question: Question) -> None:
        self.worked.append(question.name)
        self._known[repr(question)] = KEPT.ask(question)


def test_the_visit_plan_asks_in_two_rounds_and_nothing_twice() -> None:
    """First plans and floats, then what those plans want restocked; the plan itself finds all of it ready."""
    answers = Rounds()
    data = load(DEMO, answers)
    ahead.visit_plan(data)
    assert [set(each) for each in answers.rounds] == [{"plan", "float"}, {"restock"}]
    found = visits.by_day(data)
    assert answers.late == []
    assert answers.worked.count("float") == len({repr(question) for question in visits.floats(data)})
    assert answers.worked.count("restock") == sum(len(visits.times(site)) for site in data.tables["sites"])
    assert answers.worked.count("plan") == len({repr(siteplan.question(data, site.typed["key"])) for site in data.tables["sites"]})
    assert {visit.site.typed["key"] for each in found.values() for visit in each} == {site.typed["key"] for site in data.tables["sites"]}


def test_all_that_sheets_and_cards_ask_is_worked_out_beforehand() -> None:
    """So that no site is worked out on one core while the pages are written."""
    asked = Asked()
    data = load(DEMO, asked)
    ahead.work_out(data)
    asked.asked.clear()
    for machine in data.tables["machines"]:
        siteplan.of_model(data, machine.typed["key"])
        for product in data.sold_in("products", machine.typed["key"]):
            best = coils.judged(data, machine.typed["key"], product.typed["key"])[0]
            coils.worked(data, machine.typed["key"], product.typed["key"], best.coil)
    sites.work_out(data, "ferry-pier")
    assert asked.asked
    assert set(asked.asked) <= set(asked.ready)
    assert len([each for each in asked.ready if "ferry" not in each and "'float'" in each]) == len(data.tables["sites"])
