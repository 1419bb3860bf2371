"""No table of an operator's folder changes unnoticed: which columns it has, what each may hold, which it needs."""

from __future__ import annotations

import pytest

from tests.support import recorded


def test_the_tables_are_what_was_recorded(request: pytest.FixtureRequest) -> None:
    """What an operator has typed is read by them, for years."""
    recorded.held("tables", recorded.columns(), request)
