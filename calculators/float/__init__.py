"""Float: how much change, in which coins, until the next visit?"""

from ..core import Calculator, CheckSpec, ValueSpec
from .conflicts import conflicts
from .inputs import EXAMPLE, SET_EXAMPLES, Inputs
from .solve import glance, solve

CALCULATOR = Calculator(
    name="float",
    title="Float",
    question="How much change, in which coins, until the next visit?",
    summary=(
        "Plays the buyers between two visits, with your prices and their ways to pay, tells the "
        "chance that somebody is turned away for lack of change, and finds the least money in "
        "whole rolls that keeps it small enough."
    ),
    inputs=Inputs,
    values=(
        ValueSpec("chance", "Chance that nobody is turned away", "chance", "P", toward="down",
                  help="As the tubes stand; loaded as planned where nothing was counted. Where no run saw a "
                  "refusal it is more than this. Whoever brings a bill that is not taken is left out.", main=True),
        ValueSpec("error", "Standard error of that chance", "chance", "E", toward="up",
                  help="0 where the chance was worked out exactly; a dash where no run saw a refusal."),
        ValueSpec("short", "Chance of running short", "chance", toward="up",
                  help="That at least one buyer is refused before the visit."),
        ValueSpec("loaded", "Chance that nobody is turned away, after loading", "chance", toward="down",
                  help="With the coins below laid in."),
        ValueSpec("money", "Money to carry in coins", "money", toward="up",
                  help="The least that meets the wanted chance; a dash where no load does.", main=True),
        ValueSpec("mass", "Weight of the coins to carry", "small_mass", toward="up",
                  help="Coins only, without bags or paper."),
        ValueSpec("rolls", "Rolls or bags to load", "count", help="All coins together."),
        ValueSpec("refused", "Buyers refused until the visit, on average", "average", toward="up",
                  help="After loading; buyers go on coming after a refusal. Bills that are not taken are left out."),
        ValueSpec("lost", "Sales lost by it, on average", "money", toward="up",
                  help="Nothing where refused buyers pay cashless instead."),
        ValueSpec("notes_off", "Sales until bills are refused, one visit in twenty", "count", "Q",
                  help="A dash where bills stay on in nineteen visits of twenty.", toward="down"),
        ValueSpec("sure", "Cash sales served for certain, whatever they are", "count", toward="down",
                  help="At least so many in any order: no luck is needed.", main=True),
        ValueSpec("left", "Money left in the tubes at the visit, on average", "money",
                  toward="down", help="Rounded down to whole cents."),
        ValueSpec("bring", "Money to bring next time to be as full, on average", "money", toward="up",
                  help="Tubes that run down; those that fill up are not counted against it."),
        ValueSpec("coin_bank", "Coins to bank, on average", "money", toward="down",
                  help="Money in the coin box at the visit."),
        ValueSpec("note_bank", "Bills to bank, on average", "money", toward="down",
                  help="Money in the bill box at the visit."),
        ValueSpec("notes", "Bills in the bill box, on average", "average", toward="up",
                  help="How many bills the visit finds."),
    ),
    checks=(
        CheckSpec("chance", "Chance that nobody is turned away", "chance",
                  rules=("coins.table", "coins.rolls"),
                  help="Against the wanted chance; a chance within its error is a caution."),
        CheckSpec("fit", "Coins fit the tube", "count", "at most", rules=("coins.table",),
                  help="The coins counted against the tube’s room."),
        CheckSpec("price", "Price can be paid and changed", rules=("coins.table",),
                  help="With plenty of each of the tubes’ coins."),
        CheckSpec("shares", "Ways to pay add up", help="To 100%, within half a percent."),
        CheckSpec("bills", "Bills that buyers bring are taken", rules=("coins.notes",),
                  help="No change helps a buyer whose bill is not taken."),
        CheckSpec("low", "Above the low mark", "count", help="Below it bills are off at once."),
        CheckSpec("low_value", "Money above the low mark", "money",
                  help="Below it bills are off at once."),
        CheckSpec("note_box", "Bills fit the bill box", "count", "at most", soft=True,
                  help="Bills by the visit, at the wanted chance."),
        CheckSpec("coin_box", "Coins fit the coin box", "count", "at most", soft=True,
                  help="All coins put in by the visit, as if none stayed in the tubes."),
    ),
    solve=solve,
    glance=glance,
    contradictions=conflicts,
    example=EXAMPLE,
    set_examples=SET_EXAMPLES,
    caution=(
        "Coins and bills draw thieves: load and count out of sight, two people where it can be, "
        "and keep no set day or hour."
    ),
    not_checked=(
        "Jams, bent or foreign coins, and what the unit counts wrongly.",
        "Buyers who mix two kinds of bill, or bills with coins, in one sale.",
        "Busy and quiet hours: sales are spread evenly over the days.",
        "Both boxes are taken as emptied at this visit.",
    ),
    probe=False,
)
