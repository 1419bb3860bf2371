"""No change of an input makes money that is not there: no check of the count may offer one, and each says what to do instead."""

from __future__ import annotations

import random
from collections import Counter
from typing import Any

from calculators.cash import CALCULATOR
from calculators.core import InputErrors, rules
from tests.support.inputs import random_request

FEW = 20


def make(seed: int) -> dict[str, Any]:
    """The example of a set, made to fail in one way or another; every third request is any at all."""
    name = list(rules.RULE_SETS)[seed % len(rules.RULE_SETS)]
    if seed % 3 == 0:
        return random_request(CALCULATOR, seed, rule_set=name)
    rng = random.Random(f"cash mends {seed}")
    given, units = CALCULATOR.example_in(name)
    inputs = dict(given)
    path = rng.choice(("other", "second", "cards_report", "tubes_now", "filled", "coins"))
    if path == "coins":
        coin = rng.choice(rules.load(name)["coins.table"].value)["name"]
        inputs["coins"] = [{"coin": coin, "way": "mass", "scale": f"{rng.uniform(1, 40):.1f} g", "container": "0 g"}]
        inputs["scale_off"] = "0.1 g"
    else:
        inputs[path] = f"{rng.uniform(0, 500):.2f}"
    return {"inputs": inputs, "units": units, "rules": name}


def test_no_failure_offers_a_figure_to_type_and_each_says_what_to_do() -> None:
    """Each kind of check fails twenty times and more, always with a note."""
    noted: Counter[str] = Counter()
    for seed in range(900):
        try:
            result = CALCULATOR.run(make(seed))
        except InputErrors:
            continue
        for check in result["checks"]:
            assert check["mend"] is None, check
            if check["outcome"] in ("stop", "caution"):
                assert check["note"], check
                noted[check["key"]] += 1
    kinds = {spec.key for spec in CALCULATOR.checks} - {"people"}  # lacking names are unknown, the same ones an error
    assert {kind: noted[kind] for kind in kinds if noted[kind] < FEW} == {}
