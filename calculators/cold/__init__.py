"""Cold holding: may this food still be sold?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .conflicts import conflicts
from .inputs import Inputs
from .solve import solve

_ILL = "Food that was warm can make people very ill. Germs have no look, no smell and no taste."
_OLD = "Food past its date, or of which nobody knows the date, can make people ill. Its look and smell tell nothing."

VALUES = (
    ValueSpec("above", "Time above the limit", "minutes", "t_above", toward="up", main=True,
              help="From the last reading that was not above to the first one that is not above again. Hours of a time plan may run on."),
    ValueSpec("warmest", "Warmest that counts", "temperature", toward="up", main=True,
              help="The grace of the air right after filling is left out."),
    ValueSpec("left", "Days left by the earliest date", "days", toward="down", main=True, help="After today. Below 0 it is past."),
    ValueSpec("unknown", "Time of which nothing is known", "minutes", "t_dark", toward="up"),
    ValueSpec("after_filling", "Air above the limit after filling", "minutes", toward="up"),
)  # fmt: skip

CHECKS = (
    CheckSpec("applies", "Cabinet that cools", caution=_ILL, help="The page is about food that must stay cold."),
    CheckSpec("log", "Log can be read whole", soft=True, help="Whatever is odd about a line is told, and nothing is left out."),
    CheckSpec("start", "Cold when it went in", "temperature", "at most", ("food.cold_holding",), caution=_ILL),
    CheckSpec("warmest", "Warmest reading", "temperature", "at most", ("food.cold_holding",), caution=_ILL,
              help="Under a time plan by hours alone it is not asked."),
    CheckSpec("above", "Time above the limit", "minutes", "at most", ("food.cold_holding", "food.reading_gap_minutes"), caution=_ILL,
              help="None without a time plan. With one, the hours of the rule set, as it counts them."),
    CheckSpec("filling", "Cold again after filling", "minutes", "at most", ("food.reload_minutes",), caution=_ILL,
              help="The grace is for the cabinet’s air, never for food."),
    CheckSpec("marked", "End time on each pack", caution=_ILL),
    CheckSpec("once", "Times out of the cold", "count", "at most", caution=_ILL, help="Under a time plan that holds once only."),
    CheckSpec("back", "May go back into the cold", "minutes", "at most", caution=_ILL, help="Where the rule set tells the two apart."),
    CheckSpec("shutoff", "Food-safety shutoff", rules=("food.shutoff",), caution=_ILL),
    CheckSpec("hard", "Frozen hard all the time", caution=_ILL),
    CheckSpec("pack", "Temperature that a frozen pack names", "temperature", "at most", soft=True),
    CheckSpec("dated", "Bears a date", rules=("food.opened_discard",), caution=_OLD),
    CheckSpec("refrozen", "Not frozen again", caution=_ILL),
    CheckSpec("days", "Days since it was made or opened", "days", "at most", ("food.date_mark_days", "food.date_mark_day_one"),
              caution=_ILL, help="Food of a kitchen. Freezing stops the count."),
    CheckSpec("thawed", "Days since thawing", "days", "at most", caution=_OLD,
              help="Of a pack that was frozen, against the days that it gives itself after thawing. The day of thawing is day 1."),
    CheckSpec("date", "Date on the pack", "days", "at least", ("food.opened_discard",), caution=_OLD, help="Days from today to that date."),
)  # fmt: skip

# Air every ten minutes: cold, warm for a little after the door stood open, cold again.
_AIR = (34.6, 34.4, 34.8, 44.1, 35.4, 35.3, 34.8, 34.6, 34.4, 34.5, 34.7, 34.4, 34.6, 34.5)
_LOG = "Day and time,Air (°F)\n" + "\n".join(
    f"2026-11-28 {8 + (30 + 10 * at) // 60:02d}:{(30 + 10 * at) % 60:02d},{degrees}" for at, degrees in enumerate(_AIR)
)

EXAMPLE = {
    "cooling": "chilled", "now": "2026-11-28 10:45", "put_in": "2026-11-28 08:55", "log": _LOG, "measured": "air", "loaded": 35,
    "pack_names": "no", "shutoff": "quiet", "plan": "none",
    "lots": [{"name": "Egg sandwiches", "dated": "kitchen", "made": "2026-11-27"},
             {"name": "Yogurt", "dated": "pack", "date": "2026-12-09", "date_kind": "use_by"}],
    "life_days": 10, "life_at": 39,
}  # fmt: skip

CALCULATOR = Calculator(
    name="cold",
    title="Cold holding",
    question="May this food still be sold?",
    summary="Reads a log of temperatures, finds the time above the limit and what of it nobody knows, holds it and every date "
    "against the rules, and says what goes out and what to write down.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=conflicts,
    example=EXAMPLE,
    caution="Food that must stay cold grows germs when it is warm, and nobody can see, smell or taste them. The thermometer, the "
    "clock and the date decide; in doubt it is thrown out. The local health department can ask for more.",
    not_checked=(
        "How the food was kept before it came to the cabinet: see Receive cold food.",
        "The thermometer itself: check it in ice water.",
        "Torn, swollen or wet packs: they go out whatever the answer.",
        "Food that is held hot.",
        "Whether a time plan is written as the law asks.",
    ),
)
