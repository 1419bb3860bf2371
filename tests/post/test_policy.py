"""The policy of a page: hashes, moved styles, and what it would refuse."""

import base64
import hashlib
import re

import pytest

from tools.post import pages, policy

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


# -- each case of the policy by itself -----------------------------------------------------


def tag(name, body=None, **attributes):
    return pages.Tag(name, {key.replace("_", "-"): value for key, value in attributes.items()}, body)


@pytest.mark.parametrize(
    ("each", "inline"),
    [
        (tag("script", "x"), True),
        (tag("script", "x", type=None), True),
        (tag("script", "x", type=""), True),
        (tag("script", "x", type="MODULE"), True),
        (tag("script", "x", type="text/javascript"), True),
        (tag("script", "x", type="application/javascript"), True),
        (tag("script", "x", type="application/json"), False),
        (tag("script", "x", type="importmap"), False),
        (tag("script", "", src="a.js"), False),
        (tag("script", "", src=None), False),
        (tag("style", "x"), False),
        (tag("div"), False),
    ],
)
def test_a_script_is_inline_or_it_is_not(each, inline):
    assert policy.is_inline(each) is inline


def test_an_empty_inline_script_is_hashed_as_empty():
    wanted = base64.b64encode(hashlib.sha256(b"").digest()).decode()
    assert policy.hashes("<script></script>") == {f"'sha256-{wanted}'"}


def test_hashes_stand_in_order_once_each():
    """Whatever order the scripts have, so that a build is the same everywhere."""
    several = "".join(f"<script>{number}</script>" for number in (3, 1, 2, 3))
    sources = re.search("script-src ([^;]*);", policy.meta(several))[1].split()
    assert len(sources) == 5
    assert (sources[0], sources[-1]) == ("'self'", "'wasm-unsafe-eval'")
    assert sources[1:-1] == sorted(sources[1:-1])


def faults(each):
    return [what for what, _ in policy.faults(each)]


@pytest.mark.parametrize("attribute", ["onclick", "ONLOAD", "on"])
def test_a_listener_in_a_tag_is_refused(attribute):
    assert faults(pages.Tag("a", {attribute: "x"})) == [f"{attribute} is refused."]


@pytest.mark.parametrize("name", ["href", "action"])
@pytest.mark.parametrize("address", ["javascript:go()", "JavaScript:go()"])
def test_a_script_as_an_address_is_refused(name, address):
    assert faults(pages.Tag("a", {name: address})) == ["A script as an address is refused."]
    assert faults(pages.Tag("a", {"title": address})) == []
    assert faults(pages.Tag("a", {name: f"#{address}"})) == []
    assert faults(pages.Tag("a", {name: None})) == []


def test_several_faults_of_a_tag_are_all_told():
    every = pages.Tag("img", {"style": "x", "onload": "y", "href": "javascript:z", "src": "//a.example/b.png"})
    assert len(faults(every)) == 4
    assert faults(pages.Tag("style", {}, "p {}")) == ["An inline style is refused."]


@pytest.mark.parametrize("address", ["http://a.example/x", "https://a.example/x", "//a.example/x", "ws://a.example/x"])
@pytest.mark.parametrize(("name", "rel"), [("link", "stylesheet"), ("link", "icon"), ("link", "preload"), ("img", None)])
def test_whatever_loads_from_elsewhere_is_refused(name, rel, address):
    place = "href" if rel else "src"
    told = policy.outside(pages.Tag(name, {"rel": rel, place: address}))
    assert [what for what, _ in told] == [f"{address} is loaded from the network."]


@pytest.mark.parametrize(
    "each",
    [
        tag("link", rel="canonical", href="https://a.example/"),
        tag("a", href="https://a.example/", rel="stylesheet"),
        tag("img", src="a//b.png"),
        tag("img", src="data:image/png;base64,//"),
        tag("img", src="HTTP"),
        tag("link", rel="icon", href=None),
        tag("link", rel="icon", src="//a.example/"),
        tag("img"),
    ],
)
def test_what_loads_nothing_from_elsewhere_is_not(each):
    assert policy.outside(each) == []


def test_moved_styles_are_kept_once_and_in_order(tmp_path):
    """Three times the class outdoes an ordinary selector; the same text is written once."""
    moved = policy.Moved()
    moved.keep(" .b {} ")
    moved.keep(" .b {} ")
    first = moved.class_of(" color: red ")
    assert moved.class_of(" color: red ") == first
    assert moved.class_of("color: blue") != first
    moved.write(tmp_path)
    lines = (tmp_path / policy.STYLES).read_text().splitlines()
    assert lines[:2] == [".b {}", f".{first}.{first}.{first} {{ color: red }}"]
    assert len(lines) == 3


def test_the_link_to_moved_styles_stands_once_at_the_heads_end():
    """Two heads are no page, but a text may say </head> further down."""
    body = "<style>p {}</style><style>q {}</style><code>&lt;</code></head>"
    text, _ = under_policy(f"{HEAD}{body}", "../../")
    assert text.count('<link rel="stylesheet" href="../../assets/css/moved-styles.css">') == 1
    assert text.index("moved-styles") < text.index("</head>")


def test_an_empty_style_still_counts(tmp_path):
    text, moved = under_policy(f"{HEAD}<p style>a</p><STYLE></STYLE>")
    assert "style>" not in text.split("</head>")[1].lower()
    assert "moved-styles" in text
    assert len(moved.rules) == 2


def test_only_the_first_head_gets_a_policy():
    text, _ = under_policy(f"{HEAD}<pre><head></pre>")
    assert text.count(policy.MARK) == 1
    assert text.index(policy.MARK) < text.index("<title>")


def test_a_page_is_named_with_each_fault():
    found = policy.refused('<p onclick="x"><i style="y">', "dir/a.html")
    assert [(each.file, each.place) for each in found] == [
        ("dir/a.html", "head"), ("dir/a.html", "<p>"), ("dir/a.html", "<i>")]  # fmt: skip
    assert all(each.mend for each in found)
