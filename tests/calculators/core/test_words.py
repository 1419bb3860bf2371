"""One list of regional words: whole words, capitals, plurals and articles follow; what somebody typed stays."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

import pytest

import calculators
from calculators.core import rules, words

SETS = [name for name in rules.RULE_SETS if name != words.BASE]
# By sentence: as it is written, as the United Kingdom, Canada and Australia read it.
SAID = [
    ("A GFCI guards an outlet.", "An RCD guards a socket.", "A GFCI guards an outlet.", "An RCD guards an outlet."),
    ("Elevators and trucks.", "Lifts and lorries.", "Elevators and trucks.", "Lifts and trucks."),
    ("An elevator, a hand truck.", "A lift, a sack truck.", "An elevator, a hand truck.", "A lift, a hand trolley."),
    ("Bills in the bill box.", "Notes in the note box.", "Bills in the bill box.", "Notes in the note box."),
    ("Read the bill of lading.", "Read the consignment note.", "Read the bill of lading.", "Read the consignment note."),
    ("Stand on dry ground.", "Stand on dry ground.", "Stand on dry ground.", "Stand on dry ground."),
    ("The ground floor.", "The ground floor.", "The ground floor.", "The ground floor."),
    ("Volts, line to ground", "Volts, line to earth", "Volts, line to ground", "Volts, line to earth"),
    ("Ground", "Earth", "Ground", "Earth"),
    ("A receptacle is grounded.", "A socket-outlet is earthed.", "A receptacle is grounded.", "A socket-outlet is earthed."),
    ("A note on the receipt.", "A note on the receipt.", "A note on the receipt.", "A note on the receipt."),
    ("Gray, then colored.", "Grey, then coloured.", "Grey, then coloured.", "Grey, then coloured."),
    ("circuit.receptacles, bill-unit, billboard", "circuit.receptacles, bill-unit, billboard",
     "circuit.receptacles, bill-unit, billboard", "circuit.receptacles, bill-unit, billboard"),
    ("Go in the truck's wake.", "Go in the lorry's wake.", "Go in the truck's wake.", "Go in the truck's wake."),
]  # fmt: skip


@pytest.mark.parametrize(("text", "uk", "ca", "au"), SAID)
def test_a_sentence_is_said_as_the_country_says_it(text: str, uk: str, ca: str, au: str) -> None:
    assert [words.of(name).say(text) for name in ("us", "uk", "ca", "au")] == [text, uk, ca, au]


def test_the_union_reads_british_words_unless_it_has_its_own() -> None:
    said = words.of("eu")
    assert said.say("An elevator for a licensed electrician") == "A lift for a qualified electrician"


@pytest.mark.parametrize("name", SETS)
def test_saying_it_twice_changes_nothing(name: str) -> None:
    """So no word that is said is one that is replaced: what is kept of a page may pass twice."""
    said = words.of(name)
    for word in words._said(name):
        once = said.say(f"The {word} here")
        assert said.say(once) == once, word


def test_the_list_is_in_order() -> None:
    """Small letters or capitals, each word once, at least one country that says it otherwise, and no unknown key."""
    rows = words.listed()
    assert len({row["us"].lower() for row in rows}) == len(rows) > 80
    for row in rows:
        assert set(row) <= {"us", *SETS, "plural", "whole"}, row
        assert set(row) & set(SETS), row
        # The Union may keep a word that the United Kingdom does not.
        assert all(row[name] != row["us"] for name in SETS if name in row and not (name == "eu" and "uk" in row)), row
        first = row["us"].split()[0]
        assert first in (first.lower(), first.upper()) or first[1:] == first[1:].lower() != "", row


def test_what_somebody_typed_is_left_alone() -> None:
    """A phrase or a name of theirs, in text and in markup; a single small word is no name."""
    said = words.of("uk", {"sites": [{"name": "Elevator & Truck Museum", "kind": "truck"}]})
    assert said.say("Elevator & Truck Museum: a truck") == "Elevator & Truck Museum: a lorry"
    assert said.markup("<b>Elevator &amp; Truck Museum</b> truck") == "<b>Elevator &amp; Truck Museum</b> lorry"


def test_markup_changes_texts_and_nothing_else() -> None:
    """Tags, ids, links, values, code and scripts stay; what a reader is told in a tag changes."""
    html = ('<a href="truck.html" id="truck" title="A truck">A truck</a><!-- truck --><code>truck</code>'
            '<input value="truck" placeholder="truck"><script>"truck"</script><svg><text>truck</text></svg>'
            '<svg translate="no"><svg><text>truck</text></svg>truck</svg>')  # fmt: skip
    assert words.of("uk").markup(html) == (
        '<a href="truck.html" id="truck" title="A lorry">A lorry</a><!-- truck --><code>truck</code>'
        '<input value="truck" placeholder="lorry"><script>"truck"</script><svg><text>lorry</text></svg>'
        '<svg translate="no"><svg><text>truck</text></svg>truck</svg>')


def texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from texts(each)
    elif isinstance(value, list):
        for each in value:
            yield from texts(each)


@pytest.mark.parametrize("name", calculators.NAMES)
@pytest.mark.parametrize("country", SETS)
def test_an_answer_is_told_in_the_country_s_words_and_computed_alike(name: str, country: str) -> None:
    """At the border alone: numbers, keys and inputs are those of the answer within."""
    example, typed = calculators.get(name).example_in(rules.load(country))
    request = {"inputs": dict(example), "rules": country, "units": "si", "typed": typed, "html": True}
    within, told = calculators.run(name, request), json.loads(calculators.run_json(name, json.dumps(request)))
    for key in ("inputs", "outcome", "units", "rules", "missing_rules", "unit_names"):
        assert told[key] == json.loads(json.dumps(within[key])), key
    assert [each["value"] for each in told["values"]] == [each["value"] for each in within["values"]]
    plain = " ".join(re.sub(r"<[^>]*>", " ", each) for each in texts({key: told[key] for key in ("html", "plain", "actions")}))
    assert re.findall(r"(?i)\b(?:gray|colors?|centers?|millimeters?|leveling)\b", plain) == []
    if country != "ca":
        assert re.findall(r"(?i)\b(?:elevators?|GFCIs?|receptacles?)\b(?!\w*[-.])", plain) == []


def test_an_error_is_told_in_the_country_s_words() -> None:
    """The label of the field it names too."""
    request = {"inputs": {"share_notes": "many"}, "rules": "uk"}
    told = json.loads(calculators.run_json("float", json.dumps(request)))["errors"][0]
    assert (told["label"], told["field"], told["value"]) == ("Sales paid with notes", "share_notes", "many")
    assert told["message"].startswith("Sales paid with notes: “many”")
