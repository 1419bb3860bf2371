"""The policy of a page: the hashes of our scripts, and what it would refuse."""

import base64
import hashlib
import re

import pytest

from tools.post import pages, policy

HEAD = '<!doctype html>\n<html>\n<head>\n  <meta charset="utf-8">\n  <title>t</title>\n</head>'


OURS = policy.Ours(frozenset({"\n  run('ü');\n", "1", "2", "3"}))


def under_policy(text: str) -> str:
    return policy.page(text, OURS)


def test_the_policy_stands_directly_after_the_character_set():
    text = under_policy(HEAD)
    head = text[text.index("<head>") :].split()
    assert head[:4] == ["<head>", "<meta", 'charset="utf-8">', "<meta"]
    assert head[4] == 'http-equiv="Content-Security-Policy"'
    assert text.count("charset") == 1


def test_a_page_without_a_character_set_gets_one_within_the_first_1024_bytes():
    text = under_policy("<html><head><title>t</title></head></html>")
    assert 0 < text.index('<meta charset="utf-8">') < text.index("Content-Security-Policy") < 1024


def test_a_script_of_ours_is_allowed_by_its_hash():
    """The hash is over the script's text as it stands, line ends and all."""
    script = "\n  run('ü');\n"
    text = under_policy(f"{HEAD}<script>{script}</script>")
    wanted = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert f"script-src 'self' 'sha256-{wanted}' 'wasm-unsafe-eval';" in text


@pytest.mark.parametrize(
    "element",
    [
        '<script src="a.js"></script>',
        '<script type="application/json">{}</script>',
        "<!-- <script>1</script> -->",
        "<script>run('ü');</script>",
        "<script>11</script>",
        '<script src="a.js">1</script>',
        '<script type="application/json">1</script>',
    ],
)
def test_nothing_else_is_hashed(element):
    text = under_policy(HEAD + element)
    assert "script-src 'self' 'wasm-unsafe-eval';" in text


def test_the_policy_is_the_one_that_was_proven():
    """Word for word, apart from the hashes."""
    text = under_policy(HEAD)
    assert re.search('Policy" content="([^"]*)"', text)[1] == (
        "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; "
        "img-src 'self' data:; font-src 'self'; connect-src 'self'; worker-src 'self' blob:; "
        "manifest-src 'self'; base-uri 'none'; form-action 'none'"
    )


@pytest.mark.parametrize(
    ("body", "what"),
    [
        ("<script>go()</script>", "A script is refused: go()"),
        ("<script>1</script>", "A script is refused: 1"),
        ("<svg><script>1</script></svg>", "A script is refused: 1"),
        ('<svg><script xlink:href="x.txt"/></svg>', "A script is refused: x.txt"),
        ('<script src="a.txt"></script>', "A script is refused: a.txt"),
        ('<script src="data:,go()"></script>', "A script is refused: data:,go()"),
        ('<script type="application/json" src="a.txt"></script>', "A script is refused: a.txt"),
        ("<!--><script>go()</script>-->", "A script is refused: go()"),
        ("<!-- --!><script>go()</script>-->", "A script is refused: go()"),
        ("<svg/onload=go()>", "onload is refused."),
        ('<a href="java&#10;script:go()">', "A script as an address is refused."),
        ('<a href="&#1; javascript:go()">', "A script as an address is refused."),
        ('<a xlink:href="javascript:go()">', "A script as an address is refused."),
        ('<button formaction="javascript:go()">', "A script as an address is refused."),
        ('<set attributeName="href" to="javascript:go()">', "A script as an address is refused."),
        ('<a href="data:text/html,x">', "A script as an address is refused."),
        ('<iframe src="a.html">', "<iframe> is refused."),
        ('<base href="b/">', "<base> is refused."),
        ("<svg><foreignObject>", "<foreignobject> is refused."),
        ('<meta http-equiv="refresh" content="0">', "<meta> is refused."),
        ('<p style="color: red">', "An inline style is refused."),
        ("<style>p {}</style>", "An inline style is refused."),
        ('<button onclick="go()">', "onclick is refused."),
        ('<a href="javascript:go()">', "A script as an address is refused."),
        ('<img src="https://example.org/a.png">', "https://example.org/a.png is loaded"),
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
        '<script src="../assets/js/a.js"></script><script src="/hb/assets/a.min.js"></script>',
        '<script type="application/json">go()</script>',
        '<input value="javascript:go()"><p aria-label="javascript:go()" title="onload=x">',
        "<!-- <script>go()</script> --><p>&lt;script&gt;go()&lt;/script&gt;",
    ],
)
def test_what_it_allows_is_not(body):
    assert policy.refused(f"{policy.MARK}>{body}", "a.html") == []


def test_a_script_on_the_page_s_own_list_is_no_fault():
    """And the list is the page's first: a second one further down allows nothing."""
    good = under_policy(f"{HEAD}<script>1</script>")
    assert policy.refused(good, "a.html") == []
    more = policy.meta("<script>2</script>", OURS)
    assert [each.what for each in policy.refused(f"{good}{more}<script>2</script>", "a.html")] == [
        "A script is refused: 2"
    ]


def test_a_file_that_is_a_script_must_be_one_of_ours(tmp_path):
    """By what is in it, not by what it is called; drawings are read too."""
    ours = policy.Ours(frozenset(), frozenset({hashlib.sha256(b"ours()").hexdigest()}))
    files = {"assets/js/a.js": "ours()", "assets/js/b.js": "theirs()", "b/c.MJS": "ours() ", "d.xhtml": "<p/>",
             "sitemap.xml": "<x/>", "e.svg": "<svg><script>1</script></svg>", "f.svg": "<svg style='x'><style>a</style></svg>",
             "g.svg": "<svg onload='x'/>", "h.txt": "theirs()", "i.html": "<script>1</script>"}  # fmt: skip
    for name, text in files.items():
        pages.write(tmp_path / name, text)
    found = [each.file for each in policy.strangers(tmp_path, ours)]
    assert found == ["assets/js/b.js", "b/c.MJS", "d.xhtml", "e.svg", "g.svg"]


def test_a_picture_of_broken_letters_is_looked_through_all_the_same(tmp_path):
    """A browser reads past them, and runs what follows."""
    (tmp_path / "a.svg").write_bytes(b"<svg><title>Caf\xe9</title><g onclick='x()'/></svg>")
    assert [each.file for each in policy.strangers(tmp_path, policy.Ours(frozenset()))] == ["a.svg"]


def test_a_page_without_a_policy_is_found():
    assert [problem.what for problem in policy.refused("<p>", "a.html")] == [
        "The page has no policy."
    ]


def test_a_character_set_further_down_is_moved_and_not_repeated() -> None:
    """The theme writes its own after our scripts; a page says it once, first of all."""
    head = '<html><head><script src="a.js"></script><meta charset="utf-8"><title>t</title></head>'
    text = policy.page(head, OURS)
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
        (tag("script", "x", type=" Application/JSON"), False),
        (tag("script", "x", type="importmap"), True),
        (tag("script", "x", type="text/ecmascript"), True),
        (tag("SCRIPT", "x"), True),
        (tag("svg:script", "x"), True),
        (tag("script", "", src="a.js"), False),
        (tag("script", "", src=None), False),
        (tag("script", "", href="a.js"), False),
        (tag("style", "x"), False),
        (tag("div"), False),
    ],
)
def test_a_script_is_inline_or_it_is_not(each, inline):
    assert policy.is_inline(each) is inline


def test_an_empty_inline_script_is_hashed_as_empty():
    wanted = base64.b64encode(hashlib.sha256(b"").digest()).decode()
    assert policy.hashes("<script></script>", {""}) == {f"'sha256-{wanted}'"}
    assert policy.hashes("<script></script>", {"x"}) == set()


def test_hashes_stand_in_order_once_each():
    """Whatever order the scripts have, so that a build is the same everywhere."""
    several = "".join(f"<script>{number}</script>" for number in (3, 1, 2, 3))
    sources = re.search("script-src ([^;]*);", policy.meta(several, OURS))[1].split()
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


@pytest.mark.parametrize(("length", "told"), [(60, "x" * 60), (61, "x" * 60 + "…")])
def test_a_long_script_is_told_by_its_beginning(length, told):
    """So that the line stays one that is read."""
    [problem] = policy.refused(f"{policy.MARK}><script>{'x' * length}</script>", "a.html")
    assert problem.what == f"A script is refused: {told}"


def test_only_the_first_head_gets_a_policy():
    text = under_policy(f"{HEAD}<pre><head></pre>")
    assert text.count(policy.MARK) == 1
    assert text.index(policy.MARK) < text.index("<title>")


def test_a_script_from_the_network_is_told_as_both():
    assert faults(pages.Tag("script", {"src": "//a.example/b.js"}, "")) == [
        "A script is refused: //a.example/b.js", "//a.example/b.js is loaded from the network."]  # fmt: skip


def test_a_page_is_named_with_each_fault():
    found = policy.refused('<p onclick="x"><i style="y">', "dir/a.html")
    assert [(each.file, each.place) for each in found] == [
        ("dir/a.html", "head"), ("dir/a.html", "<p>"), ("dir/a.html", "<i>")]  # fmt: skip
    assert all(each.mend for each in found)
