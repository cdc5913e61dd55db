"""Where verdicts divide, in CIEDE2000 units: at the lines that the words for a difference draw."""

from __future__ import annotations

from typing import Final

from tubewise.colour.words import ANOTHER_FROM, SAME_BELOW, SIDE_BY_SIDE_BELOW

SAME: Final = SAME_BELOW
"""Below it two paints are the same to the eye."""
UNNOTICED: Final = SIDE_BY_SIDE_BELOW
"""Below it nobody sees a difference in use: only where both colours touch."""
CLOSE: Final = ANOTHER_FROM
"""Below it the difference is seen and the lesson still works; from it on it is another colour."""
STANDS_IN: Final = CLOSE
"""What takes a paint's place, a tube or a mixture, must not be another colour in any use."""
FAR: Final = 12.0
"""Beyond it a paint is no candidate at all. common practice, no source."""
SWATCH_WORTH: Final = 1.0
"""What a swatch must be expected to spare a person to be worth painting: the least difference that
an eye sees, as what it costs, some minutes and a daub of paint, is about as much a nuisance.
common practice, no source."""
MOST_PARTS: Final = 6.0
"""With more parts than this of a weak paint for one of a strong, little room is left in a mixture
for anything else. common practice, no source."""
