"""Restock: when to come back, with what?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .inputs import EXAMPLE, Inputs
from .model import conflicts
from .solve import solve

VALUES = (
    ValueSpec("next_visit", "Next visit within", "days", toward="down", main=True,
              help="The selection that runs short or reaches its date first drives it."),
    ValueSpec("pieces", "Pieces to bring", "count", toward="up", main=True),
    ValueSpec("cases", "Cases and loose pieces to carry", "count", toward="up", main=True),
    ValueSpec("mass", "Mass to carry", "mass", toward="up"),
    ValueSpec("lost", "Sales lost until the planned visit, on average", "average", toward="up", main=True),
    ValueSpec("lost_money", "The same in money", "money", toward="up"),
    ValueSpec("out", "Pieces thrown out by then, on average", "average", toward="up", main=True),
    ValueSpec("out_money", "What they cost", "money", toward="up"),
    ValueSpec("swap", "What the best change of one lane earns, visit to visit", "money", toward="down"),
)  # fmt: skip

CHECKS = (
    CheckSpec("lasts", "Lasts to the planned visit", "days", "at least", soft=True),
    CheckSpec("date", "In date until the planned visit", "days", "at least",
              caution="Food past its date can make people ill."),
    CheckSpec("fresh", "What is loaded keeps", "days", "at least",
              caution="Food past its date can make people ill."),
    CheckSpec("room", "Room in the lanes", soft=True),
    CheckSpec("pays", "Earns more than it costs", "money", "at least", soft=True),
)  # fmt: skip

CALCULATOR = Calculator(
    name="restock",
    title="Restock",
    question="When to come back, with what?",
    summary="From what sells, what is left and how long it keeps: by when the next visit must be and for which "
    "selection, how full to fill each, what to bring in whole cases, and which lane would earn more with other goods.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=conflicts,
    example=EXAMPLE,
    caution="This reckons with dates and sales, not with temperatures. Read each date in the lane, and take out what is "
    "past it, swollen, torn or warm, whatever stands here.",
    not_checked=(
        "The model: pieces wanted follow chance (Poisson) around the average; a buyer who finds a selection empty buys "
        "nothing else. A day like no other (a holiday, an event) is not in it.",
        "All packs of a selection count as having its earliest date. Oldest to the front is the crew’s work.",
        "Fees for throwing away, and what a buyer who found nothing does next time.",
        "Whether the van carries it: add up the sites of the day, and read its plate.",
        "Temperature: see Cold holding and A warm cabinet.",
    ),
)
