"""Cash count: does the box match the meter?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .conflicts import conflicts
from .examples import EXAMPLE, SET_EXAMPLES
from .inputs import Inputs
from .solve import solve

VALUES = (
    ValueSpec("counted", "Counted", "money", "Y", main=True),
    ValueSpec("must", "The bag must hold", "money", "X", "By the counters: A − B − C + D − E.", main=True),
    ValueSpec("gap", "Difference: counted, less what must be there", "money", "V", "Below zero the money is short.", main=True),
    ValueSpec("share", "Difference as a share of cash sales", "percent", "s"),
    ValueSpec("sales", "Cash sales since", "money", "Z", "Cash in, less paid out, less test money that stayed inside. "
              "What the counters hold of our filling and emptying is left out."),
    ValueSpec("cards", "Cards: report, less the counters", "money", "G", "By themselves: no part of the bag."),
)

_ASK = ("coins.ask", "coins.currency", "coins.table", "coins.rolls")
CHECKS = (
    CheckSpec("short", "Not short", "money", "at least", _ASK, help="The difference against the limit from which one asks."),
    CheckSpec("over", "Not over", "money", "at most", _ASK, help="The difference against the limit from which one asks."),
    CheckSpec("holds", "What the bag must hold", "money", "at least", help="Less than nothing can be in no bag."),
    CheckSpec("came_in", "Cash sales since", "money", "at least", help="No cabinet pays buyers more than came in."),
    CheckSpec("weighed", "Weight and coins fit", rules=("coins.table",), help="Whether a whole number of coins weighs so."),
    CheckSpec("agree_low", "Second count no less than the first", "money", "at least"),
    CheckSpec("agree_high", "Second count no more than the first", "money", "at most"),
    CheckSpec("people", "Two people counted", rules=("upkeep.cash_people",)),
    CheckSpec("cards_low", "Card report no less than the counters", soft=True),
    CheckSpec("cards_high", "Card report no more than the counters", soft=True),
)  # fmt: skip

CALCULATOR = Calculator(
    name="cash",
    title="Cash count",
    question="Does the box match the meter?",
    summary="Adds up what was counted, by number, roll, bag or weight, and compares it with what the counters say must be "
    "there. Cards are compared by themselves.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=conflicts,
    example=EXAMPLE,
    set_examples=SET_EXAMPLES,
    caution="Money draws robbers. Count behind a locked door, two of you. A difference is a question, and accuses nobody.",
    not_checked=(
        "Whether the counters themselves are right, or were cleared.",
        "Counterfeit, foreign and bent money: look at it as you count.",
        "Worn, wet or dirty coins, which weigh otherwise than new ones.",
        "The bank slip: whoever keeps the books compares it.",
    ),
)
