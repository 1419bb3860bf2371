"""Each test of the plan begins with nothing tried."""

from __future__ import annotations

import pytest

from calculators.plan import trying


@pytest.fixture(autouse=True)
def _forget() -> None:
    trying._LAST.clear()
