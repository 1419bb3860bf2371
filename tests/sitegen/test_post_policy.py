"""The policy of a page: hashes, moved styles, and what it would refuse."""

import base64
import hashlib
import re

import pytest

from tools.sitegen.post import policy

HEAD = '<!doctype html>\n<html>\n<head>\n  <meta charset="utf-8">\n  <title>t</title>\n</head>'


def under_policy(text: str, root: str = "") -> tuple[str, policy.Moved]:
    moved = policy.Moved()
    return policy.page(text, moved, root), moved


def test_the_policy_stands_directly_after_the_character_set():
    text, _ = under_policy(HEAD)
    head = text[text.index("<head>") :].split()
    assert head[:4] == ["<head>", "<meta", 'charset="utf-8">', "<meta"]
    assert head[4] == 'http-equiv="Content-Security-Policy"'
    assert text.count("charset") == 1


def test_a_page_without_a_character_set_gets_one_within_the_first_1024_bytes():
    text, _ = under_policy("<html><head><title>t</title></head></html>")
    assert 0 < text.index('<meta charset="utf-8">') < text.index("Content-Security-Policy") < 1024


def test_each_inline_script_is_allowed_by_its_hash():
    """The hash is over the script's text as it stands, line ends and all."""
    script = "\n  run('ü');\n"
    text, _ = under_policy(f"{HEAD}<script>{script}</script>")
    wanted = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert f"script-src 'self' 'sha256-{wanted}' 'wasm-unsafe-eval';" in text


@pytest.mark.parametrize(
    "element",
    [
        '<script src="a.js"></script>',
        '<script type="application/json">{}</script>',
        "<!-- <script>old()</script> -->",
    ],
)
def test_nothing_else_is_hashed(element):
    text, _ = under_policy(HEAD + element)
    assert "script-src 'self' 'wasm-unsafe-eval';" in text


def test_the_policy_is_the_one_that_was_proven():
    """Word for word, apart from the hashes."""
    text, _ = under_policy(HEAD)
    assert re.search('Policy" content="([^"]*)"', text)[1] == (
        "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; "
        "img-src 'self' data:; font-src 'self'; connect-src 'self'; worker-src 'self' blob:; "
        "manifest-src 'self'; base-uri 'none'; form-action 'none'"
    )


def test_style_attributes_move_into_a_file(tmp_path):
    """The same declarations share a class; the element keeps its own."""
    body = '<i class="a" style="color: red">1</i><b style="color: red">2</b>'
    text, moved = under_policy(HEAD + body, "../")
    name = re.search(r"moved-\w{10}", text)[0]
    assert f'<i class="a {name}">1</i><b class="{name}">2</b>' in text
    assert '<link rel="stylesheet" href="../assets/css/moved-styles.css">\n  </head>' in text
    moved.write(tmp_path)
    written = (tmp_path / policy.STYLES).read_text()
    assert written == f".{name}.{name}.{name} {{ color: red }}\n"


def test_style_elements_move_into_a_file(tmp_path):
    text, moved = under_policy(HEAD + "<svg><style>.a { fill: red }</style><path /></svg>")
    assert "<svg><path /></svg>" in text
    moved.write(tmp_path)
    assert (tmp_path / policy.STYLES).read_text() == ".a { fill: red }\n"


def test_a_page_without_styles_gets_no_file(tmp_path):
    text, moved = under_policy(HEAD + '<svg><path style-x="1" /></svg>')
    assert "moved-styles" not in text
    moved.write(tmp_path)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("body", "what"),
    [
        ('<p style="color: red">', "An inline style is refused."),
        ("<style>p {}</style>", "An inline style is refused."),
        ('<button onclick="go()">', "onclick is refused."),
        ('<a href="javascript:go()">', "A script as an address is refused."),
        ('<img src="https://example.org/a.png">', "https://example.org/a.png is loaded"),
        ('<script src="//example.org/a.js"></script>', "//example.org/a.js is loaded"),
        ('<link rel="stylesheet" href="http://example.org/a.css">', "http://example.org/a.css is"),
    ],
)
def test_what_the_policy_refuses_is_found(body, what):
    found = policy.refused(f"{policy.MARK}>{body}", "a.html")
    assert [problem.what[: len(what)] for problem in found] == [what]


@pytest.mark.parametrize(
    "body",
    [
        '<a href="https://example.org/">x</a>',
        '<link rel="next" href="b.html"><img src="data:,"><img src="a/b.png">',
        '<div data-on="1" data-style="2">',
    ],
)
def test_what_it_allows_is_not(body):
    assert policy.refused(f"{policy.MARK}>{body}", "a.html") == []


def test_a_page_without_a_policy_is_found():
    assert [problem.what for problem in policy.refused("<p>", "a.html")] == [
        "The page has no policy."
    ]


def test_a_character_set_further_down_is_moved_and_not_repeated() -> None:
    """The theme writes its own after our scripts; a page says it once, first of all."""
    head = '<html><head><script src="a.js"></script><meta charset="utf-8"><title>t</title></head>'
    text = policy.page(head, policy.Moved(), "")
    assert text.count("charset") == 1
    assert text.index("charset") < text.index("a.js")
