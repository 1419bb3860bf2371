"""Cabinet plan: which product goes in which lane, with which coil?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .contradict import contradictions
from .inputs import EXAMPLE, Inputs
from .solve import solve

VALUES = (
    ValueSpec("sales", "Expected sales until the next visit", "average", "E",
              help="Pieces, all products together, with buyers by chance around what is wanted.", main=True),
    ValueSpec("wanted", "Wanted until the next visit", "average", help="If nothing ever ran out."),
    ValueSpec("served", "Share of it that sells", "percent", toward="down"),
    ValueSpec("bound", "No plan sells more than", "average",
              help="Equal to the expected sales where the plan is proven the best."),
    ValueSpec("filled", "Lanes filled", "count", toward="down", main=True),
    ValueSpec("empty", "Lanes left empty", "count", toward="up",
              help="No product, coil or wish could use them.", main=True),
    ValueSpec("pieces", "Pieces to load", "count", toward="up"),
    ValueSpec("buy", "What the best next coil would gain", "average", toward="down",
              help="More sales until the visit with one more of that coil."),
)  # fmt: skip

CHECKS = (
    CheckSpec("known", "Everything measured"),
    CheckSpec("names", "A name of its own"),
    CheckSpec("spots", "A lane there is", help="Lanes under “keep here”."),
    CheckSpec("pins", "Kept where it is", help="Lanes under “keep here”."),
    CheckSpec("tests", "A product and a coil there are", help="Rows under “tried by hand”."),
    CheckSpec("words", "Words that some product bears", soft=True, help="Words under “keep apart”."),
    CheckSpec("fits", "A coil for each product", soft=True,
              rules=("goods.side_play", "goods.coil_room", "goods.height_room", "goods.rest_share",
                     "goods.stands_alone"), help="As spiral fit finds it, tray by tray."),
    CheckSpec("placed", "A lane for each product",
              help="Left out is a product whose lanes would sell less than another’s."),
    CheckSpec("apart", "Pairs kept apart",
              caution="Keeping packs apart in the cabinet does not make a food free of an allergen: "
              "its label decides."),
    CheckSpec("care", "Nothing to mind in any lane", soft=True),
    CheckSpec("proven", "Proven the best", soft=True),
)  # fmt: skip

CALCULATOR = Calculator(
    name="plan",
    title="Cabinet plan",
    question="Which product goes in which lane, with which coil?",
    summary="Finds the plan that sells most until the next visit, from what your products sell, the "
    "trays you have and the coils in stock, and proves that no plan sells more.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=contradictions,
    example=EXAMPLE,
    probe=False,
    caution="Switch the cabinet off or set a lane to rest before you change its coil: a coil that "
    "turns catches fingers. Then try three packs by hand and ten test sales in each new lane.",
    not_checked=(
        "The model: pieces wanted follow chance (Poisson) around the weekly sales; a buyer who finds a "
        "product sold out buys nothing else; a new place does not change what a product sells.",
        "A lane counts as full at the visit; what is left from the last one, dates and shelf life are "
        "not looked at.",
        "How the first pack stands when a tray is drawn out: spiral fit tells.",
        "The mass a tray, a motor or the cabinet’s rear bears, and how packs lie in lanes of two trays "
        "one above the other.",
        "Neighbors across two trays, and a tray of two widths, which is given as two.",
    ),
)
