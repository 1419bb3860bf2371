"""One style sheet in place of many: nothing of them is lost, and their order stays."""

from pathlib import Path

from tools.post import pages, sheets

NAMES = ("assets/css/a.css", "assets/css/b.css")
LINKS = '<link rel="stylesheet" href="../assets/css/a.css"><link rel="stylesheet" href="../assets/css/b.css">'
PAGE = f'<link rel="stylesheet" href="../assets/stylesheets/main.css">{LINKS}<script src="x.js"></script><link rel="stylesheet" href="../assets/css/c.css">'


def test_a_page_names_one_sheet_where_its_parts_stood() -> None:
    """Those one after the other; the theme's, and one further down, stay."""
    assert sheets.of(PAGE) == NAMES
    assert sheets.page(PAGE, NAMES, "../") == PAGE.replace(LINKS, '<link rel="stylesheet" href="../assets/css/all.css">')


def test_a_page_with_other_sheets_is_left_alone() -> None:
    for names in ((), NAMES[:1], NAMES[::-1]):
        assert sheets.page(PAGE, names, "../") == PAGE


def test_the_sheet_is_its_parts_in_order_without_remarks(tmp_path: Path) -> None:
    """A text may look like a remark."""
    first = '/* a remark\n   of two lines */\na { color: red; } /* kept */\n'
    second = 'b::before { content: "/* no remark */"; }\n'
    for name, text in zip(NAMES, (first, second), strict=True):
        pages.write(tmp_path / name, text)
    sheets.install(tmp_path, NAMES)
    assert pages.read(tmp_path / sheets.SHEET) == "a { color: red; } /* kept */\n" + second
    assert [path.name for path in (tmp_path / "assets" / "css").iterdir()] == ["all.css"]
