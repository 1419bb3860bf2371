"""Nothing that is typed in makes food good again: no check has a change of inputs as its fix, each says what to do."""

from __future__ import annotations

import dataclasses

import pytest

from calculators.cold import CALCULATOR
from tests.support.inputs import random_request
from tests.support.mends import failed

FEW = 12
QUICK = dataclasses.replace(CALCULATOR, probe=False)
# "back" and "once" are made under one rule set alone, "thawed" of few drawn lots; test_checks.py and test_dates.py hold them.
KINDS = {spec.key for spec in CALCULATOR.checks} - {"back", "once", "thawed"}


@pytest.mark.parametrize("units", ["us", "si"])
def test_a_failed_check_says_what_to_do_and_offers_no_change(units: str) -> None:
    """Every kind of check fails often enough, with a sentence and without a fix."""
    seen = dict.fromkeys(KINDS, 0)
    for seed in range(3000):
        for check in failed(QUICK.run(random_request(CALCULATOR, 20_000 + seed, units))):
            assert check["mend"] is None
            assert check["note"].endswith((".", "”.")), check
            seen[check["key"]] = seen.get(check["key"], 0) + 1
        if min(seen[key] for key in KINDS) >= FEW:
            return
    pytest.fail(f"too few failures came up: {seen}")
