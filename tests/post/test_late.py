"""The theme's script waits where Python starts with the page, and nowhere else."""

from tools.post import late

EARLY = '<script src="../assets/js/early.js"></script>'
THEME = '<script src="../assets/javascripts/bundle.0a1b.min.js"></script>'


def test_the_theme_waits_on_a_page_that_starts_python() -> None:
    """Its address goes to the script that brings it later."""
    wanted = (
        '<script src="../assets/javascripts/late.js" '
        'data-theme="../assets/javascripts/bundle.0a1b.min.js"></script>'
    )
    assert late.page(f"<head>{EARLY}</head><body>{THEME}</body>") == f"<head>{EARLY}</head><body>{wanted}</body>"


def test_other_pages_stay_as_they_are() -> None:
    """A procedure reads its theme at once."""
    assert late.page(f"<body>{THEME}</body>") == f"<body>{THEME}</body>"
