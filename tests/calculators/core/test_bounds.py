"""What a blank may hide, on a calculator whose answers can be worked out in the head."""

from __future__ import annotations

from typing import Any

import pytest

from calculators.core import (
    Calculator,
    CheckSpec,
    Choice,
    Contradiction,
    Flag,
    InputErrors,
    Quantity,
    Record,
    Work,
)
from calculators.core.bounds import CORNERS
from calculators.core.fields import Rows, ends_of


class Inputs(Record):
    """A load on a plank."""

    load = Quantity("Load", kind="mass", least=0, most=100, worse="more", symbol="m", tolerance=2)
    plank = Quantity("Plank", kind="mass", least=10, most=50, worse="less", symbol="p")
    wet = Flag("Wet", worse=("no", "yes"))
    wood = Choice("Wood", {"oak": "Oak", "pine": "Pine", "card": "Cardboard"})
    angle = Quantity("Angle", kind="angle", least=0, most=90, symbol="a")
    either = Quantity("Either way", kind="angle", least=0, most=90, symbol="b", ends=True)
    lids = Rows("Lids", Record, "lid")


STRENGTH = {"oak": 60.0, "pine": 60.0, "card": 5.0}
RUNS: list[int] = []


def solve(inputs: Any, work: Work) -> None:
    """Each check takes one kind of blank."""
    RUNS.append(1)
    load, plank = inputs.load, inputs.plank
    known = load is not None and plank is not None
    work.check("bears", load if known else None, plank if known else None, tolerance=2,
               needs=("load", "plank"), mend=work.mend("load", plank, "at most", beyond=2))  # fmt: skip
    if inputs.wet is not True or load is not None:
        work.check("dry", None if inputs.wet is None else (80.0 if inputs.wet else 40.0), 50.0, needs=("wet",))
    held = None if inputs.wood is None or load is None else STRENGTH[inputs.wood]
    work.check("wood", load if held is not None else None, held, needs=("load", "wood"))
    bow = None if inputs.angle is None else abs(inputs.angle - 45.0)
    work.check("bow", bow, 50.0, needs=("angle",))
    work.check("either", None if inputs.either is None else inputs.either, 100.0, needs=("either",))
    work.check("lids", None, 1.0, needs=("lids",))


KINDS = {"bears": "mass", "dry": "mass", "wood": "mass", "bow": "angle", "either": "angle", "lids": "ratio"}
PLANK = Calculator(
    "plank", "Plank", "Does it bear?", "", Inputs, (),
    tuple(CheckSpec(key, key.capitalize(), kind, "at most") for key, kind in KINDS.items()), solve, {},
    contradictions=lambda inputs, units: [Contradiction(("load", "plank"), "A load is no plank.")]
    if inputs.load == inputs.plank == 13 else [],
)  # fmt: skip


def checks(**inputs: Any) -> dict[str, dict[str, Any]]:
    result = PLANK.run({"units": "si", "inputs": inputs})
    return {check["key"]: check for check in result["checks"]}


def outcome(key: str, **inputs: Any) -> str:
    return str(checks(**inputs)[key]["outcome"])


def test_a_certain_overload_needs_no_second_measurement() -> None:
    """No plank bears more than 50 kg here, so 60 is too much whatever it bears; the least excess is told."""
    check = checks(load=60)["bears"]
    assert check["outcome"] == "stop"
    assert check["text"] == "Plank not measured; at best: 60 kg; at most 50 kg required: 10 kg over."
    assert check["needs"] == []


def test_a_load_that_the_weakest_bears_is_certain_too() -> None:
    """Every plank bears at least 10 kg: 7 passes, and the least margin is told."""
    check = checks(load=7)["bears"]
    assert check["outcome"] == "pass"
    assert check["text"] == "Plank not measured; at worst: 7 kg; at most 10 kg required: 3 kg to spare."


@pytest.mark.parametrize("load", [9, 10, 11, 30, 48, 49, 50])
def test_what_could_still_go_either_way_stays_unknown(load: float) -> None:
    """Pass at one end and less than that at the other: a measurement decides, and is named."""
    assert outcome("bears", load=load) == "unknown"
    assert checks(load=load)["bears"]["needs"] == ["plank"]


def test_both_ends_blank_is_unknown() -> None:
    """Load and plank blank: anything may be."""
    assert outcome("bears") == "unknown"


def test_the_change_that_is_told_works_for_every_blank() -> None:
    """The mend of the farthest corner: with it typed in, the check passes with the blank still blank."""
    mend = checks(load=60)["bears"]["mend"]
    assert mend["changes"] == {"load": "7 kg"}
    assert outcome("bears", **mend["changes"]) == "pass"


def test_a_choice_counts_each_of_its_words() -> None:
    """Oak and pine bear 60, cardboard 5: 4 is certain, 70 is certain, 30 is not."""
    assert outcome("wood", load=4) == "pass"
    assert outcome("wood", load=70) == "stop"
    assert outcome("wood", load=30) == "unknown"


def test_nothing_follows_from_ends_that_promise_nothing() -> None:
    """At both ends the bow is 45 of 50, but a field without a direction could hide anything between."""
    assert outcome("bow") == "unknown"
    assert outcome("bow", angle=45) == "pass"


def test_a_field_that_goes_one_way_is_decided_by_its_ends() -> None:
    """0 and 90 of 100."""
    assert outcome("either") == "pass"


def test_rows_that_are_not_given_decide_nothing() -> None:
    """A list has no ends."""
    assert outcome("lids") == "unknown"


def test_a_check_made_only_for_some_fillings_stays_open() -> None:
    """Wet is made only where the load is known; a filling without the check is no proof."""
    assert outcome("dry") == "unknown"
    assert outcome("dry", load=1, wet=False) == "pass"


def test_fields_with_a_direction_cost_two_runs_however_many_they_are() -> None:
    """One at the best ends, one at the worst; a run that is known is not made again."""
    RUNS.clear()
    checks(load=60, wet=True, wood="oak", angle=1, either=1)
    assert len(RUNS) == 1 + 2


@pytest.mark.parametrize(
    ("field", "ends"),
    [("load", (0, 100)), ("plank", (50, 10)), ("wet", (False, True)), ("wood", ("oak", "pine", "card")),
     ("angle", None), ("either", (0, 90)), ("lids", None)],
)  # fmt: skip
def test_the_best_end_comes_first(field: str, ends: Any) -> None:
    """What ``worse`` says of a field, as the values at its ends."""
    assert ends_of(Inputs.field(field)) == ends


def test_a_range_without_an_end_has_none() -> None:
    """No most: nothing can be said of how large it may be."""
    assert ends_of(Quantity("x", least=0, worse="more")) is None
    assert ends_of(Quantity("x", most=5, worse="more")) is None
    assert ends_of(Flag("x")) == (True, False)
    assert ends_of(Flag("x", worse=("yes", "no"))) == (True, False)


def test_too_many_corners_stay_unknown() -> None:
    """Four yes-no blanks have 16 corners; a fifth makes more than a phone works out between two keys."""
    names = [f"f{number}" for number in range(5)]
    switches = type("Switches", (Record,), {name: Flag(name) for name in names})
    for count, expected in ((4, "pass"), (5, "unknown")):

        def one(inputs: Any, work: Work, asked: list[str] = names[:count]) -> None:
            blank = any(getattr(inputs, name) is None for name in asked)
            work.check("all", None if blank else 0.0, 1.0, needs=asked)

        made = Calculator("switches", "", "", "", switches, (), (CheckSpec("all", "All", "ratio", "at most"),), one, {})
        assert made.run({"inputs": {}})["checks"][0]["outcome"] == expected
    assert CORNERS == 2**4


class Parcel(Record):
    """Something to post: what is blank may make other blanks matter, and may not contradict what is given."""

    kind = Choice("Kind", {"letter": "Letter", "box": "Box"})
    box = Quantity("Box", kind="mass", least=0, most=30, worse="more")
    inside = Quantity("Goods in it", kind="mass", least=0, most=30, ends=True)
    sealed = Flag("Sealed")
    stamped = Flag("Stamped", worse=("yes", "no"))
    color = Quantity("Color", kind="ratio")


def post(inputs: Any, work: Work) -> None:
    """A letter weighs nothing; a box as told, of 20; goods of 10."""
    mass = {"letter": 0.0, "box": inputs.box}.get(inputs.kind)
    work.check("mass", mass, 20.0, needs=("kind", *(("box",) if inputs.kind == "box" else ()), "color"))
    work.check("inside", inputs.inside, 10.0, needs=("inside",))
    work.verdict("sealed", inputs.sealed, needs=("sealed",))


_POSTED = ("mass", "inside", "sealed")
POST = Calculator(
    "post", "Post", "", "", Parcel, (), tuple(CheckSpec(key, key.capitalize(), "ratio", "at most") for key in _POSTED), post, {},
    contradictions=lambda inputs, units: [
        *([Contradiction(("box", "inside"), "More than all of it, or much less.")] if None not in (inputs.box, inputs.inside)
          and not inputs.box - 9 <= inputs.inside <= inputs.box else []),
        *([Contradiction(("stamped", "sealed"), "First sealed, then stamped.")] if inputs.stamped and inputs.sealed is False else [])],
)  # fmt: skip


def posted(**inputs: Any) -> dict[str, dict[str, Any]]:
    return {check["key"]: check for check in POST.run({"units": "si", "inputs": inputs})["checks"]}


def outcome_of(key: str, **inputs: Any) -> str:
    return str(posted(**inputs)[key]["outcome"])


def test_what_a_filling_asks_for_is_its_whole_range_too() -> None:
    """A letter passes; a box passes only if it is light, and its mass has no bearing on a letter."""
    assert outcome_of("mass", kind="letter") == "pass"
    assert outcome_of("mass", box=19) == "pass"
    assert outcome_of("mass", box=21) == "unknown"
    assert outcome_of("mass") == "unknown"
    assert outcome_of("mass", kind="box") == "unknown"


def test_a_blank_of_which_nothing_is_known_may_be_nothing_that_counts() -> None:
    """The color stands among the needs, has no ends, and changes no answer."""
    assert "color" in posted()["mass"]["needs"]
    assert outcome_of("mass", box=19) == "pass"


@pytest.mark.parametrize(("box", "expected"), [(30, "stop"), (19.1, "stop"), (19, "unknown"), (10.1, "unknown"), (10, "pass"), (5, "pass")])
def test_a_blank_goes_only_as_far_as_nothing_contradicts_it(box: float, expected: str) -> None:
    """No more goods than the box weighs in all, and at most 9 for the box itself: all of 10 kg is enough, none of over 19."""
    assert outcome_of("inside", box=box) == expected


def test_a_word_that_contradicts_what_is_given_is_left_out() -> None:
    """What is stamped was sealed."""
    assert outcome_of("sealed") == "unknown"
    assert outcome_of("sealed", stamped=True) == "pass"
    assert outcome_of("sealed", stamped=False) == "unknown"


def test_the_measurement_that_decides_is_named() -> None:
    """The plank decides a load of 30; the angle decides nothing that its ends show."""
    result = PLANK.run({"units": "si", "inputs": {"load": 30, "wet": False, "wood": "oak"}})
    assert result["measure_next"]["field"] == "plank"


def test_inputs_that_cannot_both_be_true_are_errors_at_each() -> None:
    """Both fields are named, with what was typed there."""
    with pytest.raises(InputErrors) as caught:
        checks(load="13", plank=13)
    assert [(error.field, error.value) for error in caught.value.errors] == [("load", "13"), ("plank", 13)]
    assert all("A load is no plank." in error.message for error in caught.value.errors)


class Two(Record):
    """Two blanks."""

    idle = Quantity("Idle", kind="angle", least=0, most=90, symbol="a", worse="more")
    turns = Quantity("Turns", kind="angle", least=0, most=90, symbol="b", worse="more")


def _two(inputs: Any, work: Work) -> None:
    work.check("idle", None, 50.0, needs=("idle",))
    work.check("turns", inputs.turns, 50.0, needs=("turns",))


TWO = Calculator("two", "Two", "Which?", "", Two, (),
                 tuple(CheckSpec(key, key.capitalize(), "angle", "at most") for key in ("idle", "turns")), _two, {})  # fmt: skip


def test_what_turns_an_answer_is_measured_before_what_turns_none() -> None:
    """The first one listed changes nothing at either end; where no other is left it is named all the same."""
    assert TWO.run({"inputs": {}})["measure_next"]["field"] == "turns"
    assert TWO.run({"inputs": {"turns": 20}})["measure_next"]["field"] == "idle"
