"""The trade's own words for a rule set: receptacle or socket-outlet, GFCI, panel or board."""

from __future__ import annotations

import dataclasses

from ..core import Work

# Where the set has no words of its own, these are understood everywhere.
PLAIN = {
    "outlet": "outlet", "cutoff": "GFCI", "lead": "extension cord", "panel": "panel",
    "electrician": "licensed electrician",
}  # fmt: skip


def words(work: Work) -> dict[str, str]:
    """Each marked word and what the rule set calls it."""
    figure = work.rules.get("circuit.words")
    return {**PLAIN, **(figure.value if figure else {})}


def put(text: str, spoken: dict[str, str]) -> str:
    """The text with ``{outlet}`` and its like replaced; other braces are left alone."""
    for mark, word in spoken.items():
        text = text.replace(f"{{{mark}}}", word)
    return text


def speak(work: Work) -> None:
    """Put the words into all that the sheet says."""
    spoken = words(work)
    for check in work.checks:
        check.text, check.note = put(check.text, spoken), put(check.note, spoken)
        if check.mend is not None:
            check.mend = dataclasses.replace(check.mend, text=put(check.mend.text, spoken))
    for section in work.sections:
        section.title = put(section.title, spoken)
        for step in section.steps:
            step.label, step.note = put(step.label, spoken), put(step.note, spoken)
    for lines in (work.actions, work.not_checked):
        lines[:] = [put(line, spoken) for line in lines]
    work.tables[:] = [
        dataclasses.replace(
            table, title=put(table.title, spoken), note=put(table.note, spoken),
            rows=[tuple(put(cell, spoken) for cell in row) for row in table.rows])
        for table in work.tables
    ]  # fmt: skip
