"""No table of an operator's folder changes unnoticed: what it may hold, and what is read from it or told of it."""

from __future__ import annotations

import pytest

from tests.support import recorded


def test_the_tables_are_what_was_recorded(request: pytest.FixtureRequest) -> None:
    """What an operator has typed is read by them, for years."""
    recorded.held("tables", recorded.columns(), request)


def test_spoiled_folders_are_read_or_told_as_recorded(request: pytest.FixtureRequest) -> None:
    """Whoever mends a folder goes by these words; what nothing is wrong with is read."""
    recorded.held("folders", recorded.folders(), request)
