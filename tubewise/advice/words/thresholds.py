"""How large a colour difference matters to a painter, in CIEDE2000 units.

Common practice, no source: side by side on one ground, trained eyes start to see a difference
between paints near 1; across a table, near 2; up to about 5 a lesson's mixture still reads as the
same colour; past 10 nobody takes one for the other.
"""

from __future__ import annotations

UNSEEN = 2.0
CLOSE = 5.0
# A stand-in may differ visibly in one situation and still carry the lesson; a mixture that takes a
# tube's place is held to the same.
STANDS_IN = 6.0
FAR = 12.0
