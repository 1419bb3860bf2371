"""Names of files: kept by every system, and one file each."""

from __future__ import annotations

import pytest

from tools.book import keys


@pytest.mark.parametrize("path", ["a/con.html", "nul", "a/LPT1.css", "a./b.html", "a/b .", "a/b ", "a/ b", "a:b", 'a"b', "a|b", "a?b", "a*b", "a<b", "a\\b", "a\x07b"])
def test_a_name_that_some_system_cannot_keep_is_told(path: str) -> None:
    assert [each[0] for each in keys.unfit(["good/one.html", path])] == [path]


@pytest.mark.parametrize("path", ["a/console.html", "a.b/c.d.html", "a b/c.html", "é.html", ".nojekyll", "com10", "manifest-of-files.js"])
def test_other_names_are_good(path: str) -> None:
    assert list(keys.unfit(["good/one.html", path])) == []


@pytest.mark.parametrize(("one", "other"), [("a/b.html", "A/b.html"), ("a/b.html", "a/b.html"), ("é.html", "e\u0301.html"), ("straße", "STRASSE")])
def test_two_files_of_one_name_are_told_with_both(one: str, other: str) -> None:
    (told,) = keys.unfit([one, "c.html", other])
    assert told[0] == other
    assert f"“{one}”" in told[1]
