"""The mutation run: what it changes, which tests it takes, and what counts as noticed."""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tools.commands import mutate
from tools.commands.progress import Progress
from tools.mutation import accepted, crew, figures, formulas, reach, sample, targets
from tools.mutation.mutant import Mutant, Site

ROOT = Path(__file__).parents[2]
RULES = """[sources.ada]
title = "Standards"
edition = "2010"

[gap]
label = "Gap of 5"
value = 4
unit = "in"
kind = "length"
source = "ada"
clause = "308.2.1"

[table]
value = [
  { name = "15", factor = 0.5, on = true },  # 3 rows
]
status = "published"
"""


# -- figures --------------------------------------------------------------------------


def test_a_figure_is_changed_in_value_unit_and_clause_and_nothing_else() -> None:
    found = figures.sites("rules/us/x.toml", RULES)
    base = tomllib.loads(RULES)
    seen = []
    for site in found:
        changed = tomllib.loads(figures.mutated(RULES, site) or "")
        parts = {(name, key): value for name, table in changed.items() for key, value in table.items()
                 if base[name][key] != value}  # fmt: skip
        assert len(parts) == 1, "one change at a time"
        seen.append((site.owner, site.operator, *parts.popitem()))
    assert [(owner, kind, value) for owner, kind, _, value in seen] == [
        ("gap", "FigureValue", 5), ("gap", "FigureUnit", "cm"), ("gap", "FigureClause", "308.2.2"),
        ("table", "FigureValue", [{"name": "16", "factor": 0.5, "on": True}]),
        ("table", "FigureValue", [{"name": "15", "factor": 0.56, "on": True}]),
        ("table", "FigureValue", [{"name": "15", "factor": 0.5, "on": False}]),
    ]  # fmt: skip


@pytest.mark.parametrize("path", sorted((ROOT / "calculators" / "rules").rglob("*.toml")), ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_every_rule_file_stays_readable_whatever_is_changed(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for site in figures.sites(path.as_posix(), text)[::7]:
        changed = figures.mutated(text, site)
        assert changed != text
        assert tomllib.loads(changed or "") != tomllib.loads(text)


# -- formulas -------------------------------------------------------------------------


def test_a_formula_is_changed_one_mark_at_a_time() -> None:
    assert list(formulas.changes('"max(a, b) - 2*x_1**2 / 0.5"')) == [
        '"min(a, b) - 2*x_1**2 / 0.5"', '"max(a, b) + 2*x_1**2 / 0.5"', '"max(a, b) - 3*x_1**2 / 0.5"',
        '"max(a, b) - 2/x_1**2 / 0.5"', '"max(a, b) - 2*x_1**3 / 0.5"', '"max(a, b) - 2*x_1**2 * 0.5"',
        '"max(a, b) - 2*x_1**2 / 1.5"',
    ]  # fmt: skip


# -- the sample -----------------------------------------------------------------------


def test_every_file_that_matters_has_a_group() -> None:
    groups = {path: targets.group_of(path) for path in targets.files(ROOT, [])}
    assert set(groups.values()) == set(targets.SHARES)
    assert groups["calculators/core/html.py"] == "escape"
    assert groups["calculators/clearance/push.py"] == "calculators"
    assert groups["tools/book/derive.py"] == groups["tools/pages/sheet.py"] == "pages"
    assert groups["tools/post/policy.py"] == "policy"
    assert groups["calculators/rules/us/space.toml"] == "rules"
    assert not {"tools/post/search.py", "tools/commands/build.py"} & set(groups)
    assert sum(targets.SHARES.values()) == pytest.approx(1)
    assert targets.group_of_site(Site("tools/pages/cards.py", "Unescape", 0, 1, 0)) == "escape"
    assert targets.group_of_site(Site("tools/pages/cards.py", "AddNot", 0, 1, 0)) == "pages"


def test_the_sample_is_of_the_size_asked_for_and_spread() -> None:
    many: Any = {group: {(str(number),): [] for number in range(1000)} for group in targets.SHARES}
    assert sum(sample.quotas(many, 600).values()) == 600
    assert sample.quotas(many, 600) == {"calculators": 240, "rules": 90, "pages": 150, "escape": 72, "policy": 48}
    few = {**many, "policy": {("1",): []}}
    assert sample.quotas(few, 600)["policy"] == 1
    assert sample.quotas({"rules": many["rules"]}, 7) == {"rules": 7}


def test_a_seed_draws_the_same_again_and_another_seed_does_not() -> None:
    only = ["calculators/rules/us/space.toml", "calculators/rules/us/circuit.toml"]
    one, again, other = (sample.draw(ROOT, only, 9, seed) for seed in (1, 1, 2))
    assert one == again != other
    assert len({(mutant.site.path, mutant.site.owner) for mutant in one}) == 9, "a figure is drawn once"
    assert all(mutant.old != mutant.new for mutant in one)


# -- reach ----------------------------------------------------------------------------

SOURCE = """LIMIT = 3


def long(a, b):
    if a > b:
        return max(
            a,
            b,
        )
    return LIMIT
"""


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    (tmp_path / "calculators").mkdir()
    (tmp_path / "tests").mkdir()
    (tmp_path / "calculators" / "long.py").write_text(SOURCE, encoding="utf-8")
    (tmp_path / "tests" / "test_long.py").write_text("# tests\n", encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(("line", "lines"), [(1, {1}), (5, {5}), (7, {6, 7, 8, 9}), (10, {10}), (4, {4})])
def test_a_line_belongs_to_its_whole_statement(checkout: Path, line: int, lines: set[int]) -> None:
    """Of what has a body only the head."""
    assert reach.statement(str(checkout / "calculators" / "long.py"), line) == lines


def stored(checkout: Path, **more: Any) -> reach.Store:
    store = reach.Store(checkout, checkout / "records")
    path = "calculators/long.py"
    record = {
        "digest": reach.digest(checkout / "tests" / "test_long.py"),
        "sources": {path: reach.digest(checkout / path)},
        "tests": {"slow": 30.0, "quick": 0.5, "other": 2.0, "endless": 500.0, "broken": 0.1}, "failed": ["broken"],
        "lines": {path: {"": [1, 4], "quick": [5, 10], "slow": [5, 6, 10], "broken": [6], "endless": [6], "far": [5]}},
        "keys": {"us/space.gap": ["slow", "quick"], "uk/space.gap": [""]},
    }  # fmt: skip
    store.write("tests/test_long.py", {**record, **more})
    return store


def asked(store: reach.Store, line: int) -> reach.Tests:
    return store.reach().tests(Site("calculators/long.py", "AddNot", 0, line, 0))


def test_the_tests_of_a_line_come_first_and_all_that_is_imported_after(checkout: Path) -> None:
    """What fails as it is, and what is too long for one mutant, is not tried."""
    assert asked(stored(checkout), 7)["tests/test_long.py"] == {"slow": 30.0}
    # Where those of the line take long enough, the file's others are left alone.
    assert asked(stored(checkout), 10)["tests/test_long.py"] == {"quick": 0.5, "slow": 30.0}
    assert asked(stored(checkout, tests={"quick": 0.5, "other": 2.0}), 10)["tests/test_long.py"] == {
        "quick": 0.5, "other": 2.0}  # fmt: skip
    # Of a line that only an import comes by, every test of the file may notice.
    assert asked(stored(checkout), 1)["tests/test_long.py"] == {"quick": 0.5, "other": 2.0, "slow": 30.0}


def test_recorded_answers_are_tried_before_all_others_that_come_by_a_line(checkout: Path) -> None:
    """They notice most, however long they take, and are not tried twice."""
    marks = "tests/calculators/test_recorded.py"
    store = stored(checkout)
    (checkout / marks).parent.mkdir()
    (checkout / marks).write_text("# marks\n", encoding="utf-8")
    record = {**store.read("tests/test_long.py"), "digest": reach.digest(checkout / marks), "tests": {"marks": 70.0}, "failed": []}
    store.write(marks, {**record, "lines": {"calculators/long.py": {"marks": [7]}}})
    at = {line: Site("calculators/long.py", "AddNot", 0, line, 0) for line in (1, 7)}
    assert store.reach().first(at[7]) == {marks: {"marks": 70.0}}
    assert store.reach().first(at[1]) == store.reach().beside(at[7]) == {}
    assert asked(store, 7) == {"tests/test_long.py": {"slow": 30.0}}
    assert asked(store, 1) == {"tests/test_long.py": {"quick": 0.5, "other": 2.0, "slow": 30.0}}


def test_the_tests_beside_a_line_go_before_those_that_only_come_by_it(checkout: Path) -> None:
    """However quick the others are, which then have what is left of the time."""
    store = stored(checkout)
    others = {str(number): 1.0 for number in range(70)}
    for path, tests in {"tests/calculators/test_long.py": {"meant": 30.0}, "tests/tools/test_quick.py": others}.items():
        (checkout / path).parent.mkdir(exist_ok=True)
        (checkout / path).write_text("# tests\n", encoding="utf-8")
        store.write(path, {**store.read("tests/test_long.py"), "digest": reach.digest(checkout / path), "tests": tests, "failed": [],
                           "lines": {"calculators/long.py": {test: [5] for test in tests}}})  # fmt: skip
    found = asked(store, 5)
    assert found["tests/calculators/test_long.py"] == {"meant": 30.0}
    assert [sum(each.values()) for file, each in found.items() if file == "tests/tools/test_quick.py"] == [29.0]
    assert found["tests/test_long.py"] == {"quick": 0.5}
    assert sum(seconds for each in found.values() for seconds in each.values()) <= reach.NEAR


def test_what_the_first_tests_let_pass_is_tried_by_all_beside_it(checkout: Path) -> None:
    """However long they take; what they notice then has not survived. Where none stands beside it nothing is tried again."""
    store, path = stored(checkout), "tests/calculators/test_long.py"
    (checkout / path).parent.mkdir(exist_ok=True)
    (checkout / path).write_text("# tests\n", encoding="utf-8")
    store.write(path, {**store.read("tests/test_long.py"), "digest": reach.digest(checkout / path), "tests": {"longest": 900.0},
                       "lines": {"calculators/long.py": {"longest": [5]}}})  # fmt: skip
    asked_: list[list[str]] = []

    class Crew:
        def work(self, jobs: list[Mutant], job_of: Any) -> Any:
            for job in jobs:
                tests = job_of(job)["tests"]
                asked_.append(sorted(test for each in tests.values() for test in each))
                yield job, {"signal": 0, "code": int("longest" in asked_[-1]), "seconds": 1.0}

    faults = [Mutant(Site("calculators/long.py", "AddNot", 0, line, 0), "calculators", SOURCE, SOURCE) for line in (5, 10)]
    left = mutate.tried(Crew(), store.reach(), faults, Progress(1))  # type: ignore[arg-type]
    assert left == faults[1:]
    assert asked_[-1] == ["longest"]
    assert len(asked_) == 3


def test_a_source_that_has_changed_since_is_known_by_its_file_only(checkout: Path) -> None:
    store = stored(checkout, sources={"calculators/long.py": "another"})
    assert asked(store, 7)["tests/test_long.py"] == {"quick": 0.5, "other": 2.0}


def test_a_test_file_that_has_changed_is_recorded_anew(checkout: Path) -> None:
    store = stored(checkout)
    assert store.missing(anew=False) == []
    assert store.missing(anew=True) == ["tests/test_long.py"]
    (checkout / "tests" / "test_long.py").write_text("# other tests\n", encoding="utf-8")
    assert store.missing(anew=False) == ["tests/test_long.py"]
    assert asked(store, 7) == {}


def test_a_figure_is_tried_by_what_reads_it(checkout: Path) -> None:
    """One that was read while tests were collected, by all of them; a common one, by every set's readers."""
    store = stored(checkout).reach()

    def of(path: str) -> set[str]:
        found = store.tests(Site(f"calculators/rules/{path}.toml", "FigureValue", 0, 1, 0, "gap"))
        return set(found.get("tests/test_long.py", {}))

    assert of("us/space") == {"quick", "slow"}
    assert of("uk/space") == {"quick", "other", "slow"}
    assert of("common/space") == {"quick", "other", "slow"}
    assert of("eu/space") == set()


def test_what_reads_the_files_of_the_rule_sets_itself_tries_every_figure(checkout: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    site = Site("calculators/rules/eu/space.toml", "FigureValue", 0, 1, 0, "gap")
    assert stored(checkout).reach().tests(site) == {}
    monkeypatch.setattr(reach, "OF_ALL_FIGURES", ("tests/test_long.py",))
    assert set(stored(checkout).reach().tests(site)["tests/test_long.py"]) == {"quick", "other", "slow"}
    monkeypatch.undo()
    assert all((ROOT / file).is_file() for file in (*reach.OF_ALL_FIGURES, *reach.OF_ALL_MARKUP))


def test_what_reads_the_files_that_make_markup_tries_every_text_that_is_not_escaped(
    checkout: Path, monkeypatch: pytest.MonkeyPatch) -> None:  # fmt: skip
    monkeypatch.setattr(reach, "OF_ALL_MARKUP", ("tests/test_long.py",))
    found = {name: stored(checkout).reach().tests(Site("calculators/long.py", name, 0, 10, 0)) for name in ("Unescape", "AddNot")}
    assert set(found["Unescape"]["tests/test_long.py"]) == {"quick", "other", "slow"}
    assert set(found["AddNot"]["tests/test_long.py"]) == {"quick", "slow"}


def test_tests_that_need_a_browser_or_a_site_are_no_tests_of_a_mutant() -> None:
    files = reach.test_files(ROOT)
    assert "tests/tools/test_mutate.py" in files
    assert not [file for file in files if "browser/" in file or "engines" in file or "runtime" in file]


# -- a server -------------------------------------------------------------------------

TESTS = """import value

def test_is_four():
    assert value.four() == 4

def test_ends():
    while value.four() > 9:
        pass
"""


@pytest.fixture
def server(tmp_path: Path) -> Any:
    """A server in a copy that holds one module and its tests."""
    (tmp_path / "value.py").write_text("def four():\n    return 4\n", encoding="utf-8")
    (tmp_path / "test_value.py").write_text(TESTS, encoding="utf-8")
    (tmp_path / "pyproject.toml").write_text('[tool.pytest.ini_options]\npythonpath = ["."]\n', encoding="utf-8")
    process = subprocess.Popen([sys.executable, str(crew.SERVER), str(tmp_path)], text=True,
                               stdin=subprocess.PIPE, stdout=subprocess.PIPE)  # fmt: skip
    yield lambda **job: answer(process, {"do": "try", "path": "value.py", "more": 1.0, **job})
    process.stdin.close()  # type: ignore[union-attr]
    assert process.wait() == 0


def answer(process: subprocess.Popen[str], job: dict[str, Any]) -> dict[str, Any]:
    assert process.stdin
    assert process.stdout
    process.stdin.write(json.dumps(job) + "\n")
    process.stdin.flush()
    told: dict[str, Any] = json.loads(process.stdout.readline())
    return told


def test_a_fault_is_noticed_survives_or_never_ends(server: Any, tmp_path: Path) -> None:
    both = {"test_value.py": {"test_is_four": 0.01, "test_ends": 0.02}}
    one = {"test_value.py": {"test_ends": 0.02}}
    same = "def four():\n    return 2 * 2\n"
    assert server(text=same, tests=both)["code"] == 0
    assert server(text="def four():\n    return 5\n", tests=both)["code"] == 1
    assert server(text="def four():\n    return 5\n", tests=one)["code"] == 0, "only the chosen test was run"
    assert server(text="def four(:\n", tests=both)["code"] == 2, "what cannot be imported is noticed"
    endless = server(text="def four():\n    return 10\n", tests=one)
    assert endless["signal"] != 0, "the system's own limit of processor time ends it"
    assert (tmp_path / "value.py").read_text(encoding="utf-8") == "def four():\n    return 4\n"
    assert server(text=same, tests=both)["code"] == 0, "and nothing of it is left"


STARTING = """import os
import subprocess
import sys
import value

def test_starts():
    leaving = {name: text for name, text in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    subprocess.run([sys.executable, "-c", "import value"], check=True, env=leaving)

def test_is_four():
    assert value.four() == 4
"""


def test_what_a_test_starts_leaves_nothing_of_a_fault_to_the_next_one(server: Any, tmp_path: Path) -> None:
    """Its bytecode would be taken for that of another fault of the same size: they are told apart by the second alone."""
    (tmp_path / "test_value.py").write_text(STARTING, encoding="utf-8")
    assert server(text="def four():\n    return +4\n", tests={"test_value.py": {"test_starts": 1.0}})["code"] == 0
    assert server(text="def four():\n    return -4\n", tests={"test_value.py": {"test_is_four": 0.01}})["code"] == 1


TRIED = """import pytest
import value

@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("name", ["long", "wide"])
def test_is_four(name, units):
    assert name == "wide" or value.four() == 4
"""


def test_a_test_of_all_calculators_is_a_test_of_each(server: Any, tmp_path: Path) -> None:
    """So that a fault in one is not tried on all others."""
    for name in ("long", "wide"):
        (tmp_path / "calculators" / name).mkdir(parents=True)
        (tmp_path / "calculators" / name / "__init__.py").touch()
    (tmp_path / "test_value.py").write_text(TRIED, encoding="utf-8")
    text = "def four():\n    return 5\n"
    assert server(text=text, tests={"test_value.py": {"test_is_four[long]": 0.01}})["code"] == 1
    assert server(text=text, tests={"test_value.py": {"test_is_four[wide]": 0.01}})["code"] == 0
    assert server(text=text, tests={"test_value.py": {"test_is_four": 0.01}})["code"] == 5


# -- what is told ---------------------------------------------------------------------


def mutant(number: int, group: str = "pages") -> Mutant:
    site = Site("tools/x.py", "AddNot", number, 1, 0)
    return Mutant(site, group, f"a = {number}\nif b:\n    c\n", f"a = {number}\nif not b:\n    c\n")


@pytest.mark.parametrize(("left", "explained", "code"), [(0, 0, 0), (2, 0, 0), (3, 0, 1), (3, 1, 0), (5, 3, 0), (6, 3, 1)])
def test_one_in_twenty_may_go_unexplained(left: int, explained: int, code: int, capsys: pytest.CaptureFixture[str]) -> None:
    """Of forty, two."""
    mutants = [mutant(number) for number in range(40)]
    whys = {each: "equivalent: said why" if number < explained else "" for number, each in enumerate(mutants[:left])}
    assert mutate.told(mutants, mutants[:left], whys) == code
    said = capsys.readouterr().out
    assert said.count("+if not b:") == left
    assert said.count("equivalent: said why") == explained
    assert said.count("[[accepted]]") == left - explained


def test_a_survivor_is_known_by_its_lines_wherever_they_stand(tmp_path: Path) -> None:
    file = tmp_path / "mutants.toml"
    file.write_text(accepted.entry(mutant(1)).replace('why = ""', 'why = "equivalent: both do"'), encoding="utf-8")
    known = accepted.read(file)
    moved = Mutant(Site("tools/x.py", "AddNot", 9, 5, 0), "pages", "\n\nx\nif b:\n", "\n\nx\nif not b:\n")
    assert accepted.why(known, moved) == "equivalent: both do"
    assert accepted.why(known, Mutant(moved.site, "pages", "if b:\n", "if c:\n")) == ""
    file.write_text(accepted.entry(mutant(1)), encoding="utf-8")
    with pytest.raises(ValueError, match="no reason"):
        accepted.read(file)


def test_every_explained_survivor_has_its_line_still() -> None:
    """An entry whose line is gone explains nothing."""
    for path, before, _ in accepted.read(mutate.KNOWN):
        lines = [line.strip() for line in (ROOT / path).read_text(encoding="utf-8").splitlines()]
        assert before in " ".join(lines), f"{path}: {before}"


def test_the_command_takes_a_seed_a_size_and_paths() -> None:
    parser = argparse.ArgumentParser()
    mutate.add_arguments(parser)
    args = parser.parse_args(["--seed", "7", "--only", "calculators/core", "tools/pages"])
    assert (args.seed, args.sample, args.only) == (7, 600, ["calculators/core", "tools/pages"])
