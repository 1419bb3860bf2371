"""Nothing on a page that is made from data changes unnoticed, in any country."""

from __future__ import annotations

import pytest

from tests.support import editions, recorded


@pytest.mark.parametrize("name", editions.everywhere())
def test_pages_made_from_data_are_what_was_recorded(name: str, request: pytest.FixtureRequest) -> None:
    """Those of a new operator's folder; of what people wrote the tags, in one set."""
    recorded.held(f"pages-{name}", recorded.pages(name), request)
