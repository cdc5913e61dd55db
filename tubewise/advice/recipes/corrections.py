"""The moves that mend a mixture by eye: too green, add this."""

from __future__ import annotations

from collections.abc import Sequence

from tubewise.advice.recipes.results import Correction
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.words import difference_words
from tubewise.paints.paint import Paint
from tubewise.search.adjust import corrections as moves
from tubewise.search.problem import Proportions, SearchProblem

# CIEDE2000 of the difference in which a move is worded.
SEEN_WELL = 4.0


def corrections(
    found: Proportions, problem: SearchProblem, paints: Sequence[Paint]
) -> tuple[Correction, ...]:
    """The moves that mend a mixture; none for a single tube.

    Each paint's move is the slope of the mixture's CIELAB with its share, under the light asked
    for; what it takes away is the opposite of what it adds. `found` is in rows of `paints`.
    """
    if len(found.indices) < 2:
        return ()
    here = found.lab[0]
    mending = []
    for slope in moves(problem, found):
        # Scaled to a difference one sees well, so that words are about its direction.
        scale = SEEN_WELL / max(float(delta_e_2000(here + slope.move, here)), 1e-9)
        too = difference_words(here, here - slope.move * scale)
        if too:
            paint = paints[slope.index]
            tube = paint.tube.id if paint.tube else paint.name
            words = f"if it is {too} than you want, add a little {paint.name}"
            mending.append(Correction(tube=tube, title=paint.name, too=too, words=words))
    return tuple(mending)
