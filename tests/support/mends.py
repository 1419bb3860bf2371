"""Printed changes, each typed in as printed: as many failures of every kind of check as of any other."""

from __future__ import annotations

import copy
import dataclasses
from collections import Counter
from collections.abc import Callable, Collection
from typing import Any

from calculators.core import Calculator
from calculators.core.calculator import read_setting
from calculators.core.reading import read_record

FAILURES = 500
Make = Callable[[int], dict[str, Any]]


def changed(inputs: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """The inputs with a printed change typed in."""
    made = copy.deepcopy(inputs)
    for path, value in changes.items():
        target: Any = made
        *way, last = path.split(".")
        for part in way:
            target = target[int(part)] if isinstance(target, list) else target[part]
        target[last] = value
    return made


def printed(calculator: Calculator, request: dict[str, Any]) -> dict[str, Any]:
    """The request with its inputs as a form shows them in the units that it is printed in."""
    setting = read_setting(request)
    inputs = read_record(calculator.inputs, request["inputs"], setting.typed)
    shown = calculator.inputs.shown(inputs.values(), setting.show)
    return {**request, "typed": setting.show.system, "inputs": shown}


def failed(result: dict[str, Any]) -> list[dict[str, Any]]:
    """The checks of a result that do not pass, though all is measured."""
    return [each for each in result["checks"] if each["outcome"] in ("stop", "caution")]


def same(result: dict[str, Any], check: dict[str, Any]) -> dict[str, Any] | None:
    """That very check in another result; None where it is not made any more."""
    return next((each for each in result["checks"]
                 if (each["key"], each["at"]) == (check["key"], check["at"])), None)  # fmt: skip


@dataclasses.dataclass
class Trial:
    """Runs requests until every kind of check that can have a mend was mended often enough.

    ``advised`` are the kinds for which there is nothing to type in: each must fail ``few`` times,
    always with a note that says what to do. ``gone`` are kinds that may vanish with their cause.
    """

    calculator: Calculator
    advised: Collection[str] = ()
    gone: Collection[str] = ()
    never: Collection[str] = ()
    few: int = 20
    mended: Counter[str] = dataclasses.field(default_factory=Counter)
    noted: Counter[str] = dataclasses.field(default_factory=Counter)

    def __post_init__(self) -> None:
        # What to measure next and the one change run the sheet many times more.
        self.quick = dataclasses.replace(self.calculator, finish=None, probe=False)

    @property
    def kinds(self) -> list[str]:
        """The kinds of check that a mend may turn."""
        left_out = {*self.advised, *self.never}
        return [spec.key for spec in self.calculator.checks if spec.key not in left_out]

    @property
    def quota(self) -> int:
        """Failures of each such kind, so that all together are 500 or more."""
        return -(-FAILURES // len(self.kinds))

    def run(self, make: Make, units: str, most: int = 4000) -> None:
        """Try seeded requests until each kind has its number; fail where too few come up."""
        for seed in range(most):
            if not self.wanting():
                break
            self._one({"typed": "si", **make(seed), "units": units})
        assert not self.wanting(), self.wanting()
        assert sum(self.mended.values()) >= FAILURES

    def wanting(self) -> dict[str, int]:
        """How many failures of which kinds are still to come."""
        goals = {**dict.fromkeys(self.kinds, self.quota), **dict.fromkeys(self.advised, self.few)}
        found = {**self.noted, **{kind: self.mended[kind] for kind in self.kinds}}
        return {kind: goal - found.get(kind, 0) for kind, goal in goals.items() if found.get(kind, 0) < goal}

    def _one(self, request: dict[str, Any]) -> None:
        asked = printed(self.quick, request)
        for check in failed(self.quick.run(asked)):
            kind = check["key"]
            assert kind not in self.never, check
            if check["mend"] is None:
                assert check["note"], check
                self.noted[kind] += 1
            elif self.mended[kind] < self.quota:
                assert kind not in self.advised, check
                self._again(asked, check)
                self.mended[kind] += 1

    def _again(self, asked: dict[str, Any], check: dict[str, Any]) -> None:
        after = {**asked, "inputs": changed(asked["inputs"], check["mend"]["changes"])}
        found = same(self.quick.run(after), check)
        if found is None:
            assert check["key"] in self.gone, check
        else:
            assert found["outcome"] == "pass", (check, found)
