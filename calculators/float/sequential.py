"""When enough runs have been played: a test that may be looked at as often as one likes.

A load meets the wanted chance W, or it does not, as soon as the runs speak against the contrary by
10,000 to 1. They speak by likelihood ratios: how much likelier so many clean runs and refusals are at
a few chances beyond W than at W itself, on average. At W that average is a fair game, on the other
side of W it loses; so by Ville's inequality (J. Ville, 1939; A. Wald's sequential test is its best known
use) it ever reaches 10,000 at most once in 10,000 times, however often it is looked at.
"""

from __future__ import annotations

import math

ODDS = 10_000  # how often a decision may be wrong: once in so many
# Chances of a refusal that are weighed, as parts of what is wanted at most: below it and above it,
# nearer and nearer, so that a clear case is told soon and a close one at last.
BETTER = (0.0, 1 / 8, 1 / 2, 3 / 4, 7 / 8, 15 / 16, 31 / 32, 63 / 64)
WORSE = (16.0, 8.0, 4.0, 2.0, 3 / 2, 5 / 4, 9 / 8, 17 / 16, 33 / 32, 65 / 64)


class Decision:
    """Whether a chance (0 to 1) of which runs came out clean or not meets what is wanted."""

    def __init__(self, wanted: float) -> None:
        refused = 1.0 - wanted
        self._better = [_logs(wanted, refused * part) for part in BETTER]
        self._worse = [_logs(wanted, refused * part) for part in WORSE if refused * part < 1.0]

    def clear(self, clean: int, runs: int) -> bool | None:
        """True where it is met, False where it is not, None while these runs cannot tell."""
        enough = math.log(ODDS)
        if _evidence(self._better, clean, runs - clean) >= enough:
            return True
        return False if _evidence(self._worse, clean, runs - clean) >= enough else None


def _logs(wanted: float, refused: float) -> tuple[float, float]:
    """Logarithms of the two ratios: of a clean run, and of one with a refusal."""
    spoilt = math.log(refused / (1.0 - wanted)) if refused else -math.inf
    return math.log((1.0 - refused) / wanted), spoilt


def _evidence(logs: list[tuple[float, float]], clean: int, spoilt: int) -> float:
    """Logarithm of the mean of all likelihood ratios."""
    each = [clean * good + (spoilt * bad if spoilt else 0.0) for good, bad in logs]
    most = max(each)
    return most + math.log(math.fsum(math.exp(one - most) for one in each) / len(each))


def none_refused(runs: int) -> float:
    """What a chance surely exceeds where none of so many runs saw a refusal (Clopper and Pearson).

    At the lower chance α^(1/runs) so many clean runs in a row come once in 1/α = 740 times, as often as
    a value three standard errors off.
    """
    return float(ONE_SIDED ** (1.0 / runs)) if runs else 0.0


ONE_SIDED = 0.00135  # what a normal spread leaves beyond three standard errors on one side
