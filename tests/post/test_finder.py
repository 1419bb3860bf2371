"""The search's own code, in Node: stems, slips, order, excerpts, and what newcomers type."""

from __future__ import annotations

import base64
import gzip
import json
import re
import subprocess
import tomllib
from pathlib import Path
from typing import Any

import material
import pytest

from calculators.core import rules
from tools.post import search

ROOT = Path(__file__).parents[2]
WORKERS = Path(material.__file__).parent / "templates" / "assets" / "javascripts" / "workers"
CASES = tomllib.loads((ROOT / "tests" / "cases" / "searches.toml").read_text("utf-8"))
FIRST = 2


def run(node: str, names: tuple[str, ...], then: str, given: object) -> Any:
    """Run scripts of the search, then an expression over ``given``; return its JSON."""
    sources = "\n".join((search.HERE / name).read_text("utf-8") for name in names)
    code = f"const given = JSON.parse(require('fs').readFileSync(0, 'utf8'));\n{sources}\nconsole.log(JSON.stringify({then}));"
    done = subprocess.run([node, "-e", code], input=json.dumps(given), capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def found(node: str, docs: list[dict[str, Any]], *queries: str) -> list[list[dict[str, Any]]]:
    """The hits of each query, the best first."""
    then = "given.queries.map((query) => finder.search(query).items.map(([hit]) => hit))"
    then = f"(() => {{ const finder = new HandbookFinder(given.docs); return {then}; }})()"
    answers: list[list[dict[str, Any]]] = run(node, ("stem.js", "finder.js"), then, {"docs": docs, "queries": queries})
    return answers


def places(hits: list[dict[str, Any]]) -> list[str]:
    return [hit["location"] for hit in hits]


def page(location: str, title: str, text: str = "", **more: Any) -> dict[str, Any]:
    return {"location": location, "title": title, "text": text, **more}


@pytest.fixture(scope="module")
def docs(site: Path) -> list[dict[str, Any]]:
    """What the built handbook's search looks through."""
    packed = re.search(r'\["search-docs"\] = "([^"]+)"', (site / search.WORKER).read_text("utf-8"))
    assert packed
    texts: list[dict[str, Any]] = json.loads(gzip.decompress(base64.b64decode(packed[1])))
    return texts


# -- what newcomers type ----------------------------------------------------------


@pytest.mark.parametrize("name", ["searches", "harder", "unseen"])
def test_a_newcomer_finds_the_page_among_the_first_two(name: str, docs: list[dict[str, Any]], node: str) -> None:
    """In words that are not the pages' own; tests/cases/searches.toml says which set was written when."""
    hits = found(node, docs, *CASES[name])
    missed = [query for (query, wanted), each in zip(CASES[name].items(), hits, strict=True)
              if wanted not in [place.partition(".html")[0] for place in places(each)[:FIRST]]]  # fmt: skip
    assert len(CASES[name]) - len(missed) >= CASES["least"][name], missed


def test_the_searches_are_many_and_their_pages_are_there(docs: list[dict[str, Any]]) -> None:
    """None twice; a page that is gone would be a search that cannot be won."""
    sets = [CASES[name] for name in CASES["least"]]
    assert [len(each) for each in sets] == [45, 20, 20]
    assert len({query for each in sets for query in each}) == 85
    there = {doc["location"].partition(".html")[0] for doc in docs}
    assert {page for each in sets for page in each.values()} <= there


def test_no_saying_is_one_of_the_searches(docs: list[dict[str, Any]]) -> None:
    """Words that people say in general, and not the answers to this test."""
    said = {each for doc in docs for each in doc.get("said", ())}
    assert len(said) > 200
    assert [query for name in CASES["least"] for query in CASES[name] if query in said] == []


def test_other_countries_rules_are_not_found(docs: list[dict[str, Any]]) -> None:
    """No source that only another rule set has is named in what the search looks through."""
    named = {name: {rule.source for rule in rules.load(name).figures.values() if rule.source} for name in rules.RULE_SETS}
    # A standard of the whole world may be ours in a part.
    other = {title for each in named.values() for title in each if not any(ours.startswith(title) for ours in named["us"])}
    assert len(other) > 10
    text = json.dumps(docs, ensure_ascii=False)
    assert [title for title in other if title in text] == []


# -- stems and slips ---------------------------------------------------------------


def test_stems_are_those_of_another_program(docs: list[dict[str, Any]], node: str) -> None:
    """Every word of the handbook, against the stemmer of a library that the theme brings along and we do not use."""
    words = sorted(set(re.findall(r"\b[a-z]{4,}\b", " ".join(doc["text"] for doc in docs))))
    assert len(words) > 2000
    (worker,) = WORKERS.glob("search.*.min.js")
    code = ("self = globalThis; self.addEventListener = () => {}; self.postMessage = () => {};"
            f"{worker.read_text('utf-8')}\n;const words = JSON.parse(require('fs').readFileSync(0, 'utf8'));"
            "console.log(JSON.stringify(words.map((word) => lunr.stemmer(new lunr.Token(word)).toString())));")  # fmt: skip
    theirs = subprocess.run([node, "-e", code], input=json.dumps(words), capture_output=True, text=True, check=True)
    ours = run(node, ("stem.js",), "given.map(HandbookStem)", words)
    assert dict(zip(words, ours, strict=True)) == dict(zip(words, json.loads(theirs.stdout), strict=True))


@pytest.mark.parametrize("typed", ["leveling", "levels", "levle", "leveel", "levl", "lebel"])
def test_an_ending_or_one_wrong_letter_does_not_matter(typed: str, node: str) -> None:
    docs = [page("a.html", "Level a cabinet"), page("b.html", "Load the van")]
    assert places(found(node, docs, typed)[0]) == ["a.html"]


def test_two_wrong_letters_find_nothing_else(node: str) -> None:
    assert found(node, [page("a.html", "Level a cabinet")], "labbl") == [[]]


def test_a_word_is_found_while_it_is_typed(node: str) -> None:
    """Its beginning is enough, as long as it is the last one."""
    docs = [page("a.html", "Refrigerant that burns"), page("b.html", "Tipping")]
    assert [places(each) for each in found(node, docs, "refri", "refri ")] == [["a.html"], []]


# -- order ---------------------------------------------------------------------------


def test_a_procedure_stands_before_reference(node: str) -> None:
    """The same words: procedures and safety, calculators, made pages, reference."""
    docs = [page(f"{rank}.html", "Legs", "Turn the leg.", rank=rank) for rank in (3, 1, 0, 2)]
    assert places(found(node, docs, "leg")[0]) == ["0.html", "1.html", "2.html", "3.html"]


def test_what_people_say_finds_a_page_that_never_says_it(node: str) -> None:
    """And is not shown."""
    docs = [page("a.html", "Set up the unit", "Look.", said=["paper money"], rank=0, summary="Clear a jam."),
            page("b.html", "Look at money", "Money on paper, paper on money.", rank=0)]  # fmt: skip
    (hits,) = found(node, docs, "paper money")
    assert places(hits)[0] == "a.html"
    assert "paper" not in json.dumps(hits[0])
    assert "Clear a jam." in hits[0]["text"]


def test_a_page_by_its_name_stands_first(node: str) -> None:
    """A site or a product needs no sayings."""
    docs = [page("a.html", "Load", "Pier cola, pier cola, pier cola.", rank=0), page("b.html", "Pier cola", rank=2)]
    assert places(found(node, docs, "pier cola")[0]) == ["b.html", "a.html"]


def test_of_a_site_s_sheet_who_and_where_alone_can_be_searched(docs: list[dict[str, Any]]) -> None:
    """What stands on every sheet alike would crowd the search, and make it slow with many sites."""
    others = {"index", "papers", "visits"}
    sheets = [each for each in docs if each["location"].startswith("sites/") and each["location"][6:].split(".html")[0] not in others]
    assert len(sheets) == len({each["location"] for each in sheets}) > 10
    for each in sheets:
        assert each["text"].startswith("Cabinet ")
        assert "#" not in each["location"]
        assert not re.search("Outcome|Coil|Van list|Breaker|hecklist", each["text"])


# -- a hit -----------------------------------------------------------------------------


def test_a_page_is_one_hit_with_the_part_that_holds_it(node: str) -> None:
    """However many of its parts hold the word."""
    docs = [page("a.html", "Clean"), page("a.html#one", "Tools", "A cloth."), page("a.html#two", "Rinse", "Rinse it. The cloth too.")]
    (hits,) = found(node, docs, "rinsing cloth")
    assert places(hits) == ["a.html#two"]
    assert hits[0]["title"] == "Clean › <mark>Rinse</mark>"


def test_an_excerpt_begins_near_its_hit_and_marks_it(node: str) -> None:
    """Two lines of a phone hold the first hit; signs of HTML stay signs."""
    text = "<p>" + "Other words stand here. " * 20 + "Then 3 &lt; 4 &amp; the gasket leaks.</p>" + "More. " * 60
    (hits,) = found(node, [page("a.html", "Door", text)], "gaskets")
    shown = hits[0]["text"]
    assert shown.startswith("<p>… ")
    assert shown.index("<mark>gasket</mark>") < 60
    assert "3 &lt; 4 &amp; the" in shown
    assert len(re.sub("<[^>]+>", "", shown)) < 210
    assert hits[0]["terms"] == {"gasket": True}


def test_what_is_hardly_meant_is_left_out(node: str) -> None:
    """A list of fifty pages that hold one of the words once tells nothing."""
    docs = [page("a.html", "Bill jam", "A bill jam.", rank=0)]
    docs += [page(f"{n}.html", "Other", f"Of jam, once, {'and much else, ' * 2000}", rank=3) for n in range(20)]
    assert places(found(node, docs, "bill jam")[0]) == ["a.html"]


@pytest.mark.parametrize("query", ["", "   ", "!?", "<script>", "(((", "a" * 3000, "\u202e\u0000", "constructor __proto__"])
def test_any_query_is_answered(query: str, node: str) -> None:
    assert isinstance(found(node, [page("a.html", "Level", "constructor")], query)[0], list)
