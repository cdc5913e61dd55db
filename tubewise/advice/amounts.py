"""How much paint is enough: sizes compare with a tolerance, and tubes of one kind add up."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil

from tubewise.tubes.tube import Tube

# A class needs half a tube, not a rule: a tube of 36.97 ml (1.25 US fl oz) is one of 37 ml.
# common practice, no source.
SHARE = 0.01
MILLILITRES = 1.0


def enough(have_ml: float | None, want_ml: float) -> bool:
    """Whether an amount is what is asked, give or take 1 % or 1 ml; an unknown amount may be."""
    return have_ml is None or have_ml >= want_ml - max(SHARE * want_ml, MILLILITRES)


def together(tubes: Iterable[Tube]) -> float | None:
    """Millilitres in tubes of one kind together; None where a tube does not say its size."""
    sizes = [tube.size_ml for tube in tubes]
    return None if None in sizes else float(sum(size for size in sizes if size is not None))


def tubes_needed(size_ml: float | None, want_ml: float, have_ml: float = 0.0) -> int:
    """How many tubes of a size make up what `have_ml` is short of `want_ml`; 0 for enough.

    One where the size is not known.
    """
    if enough(have_ml, want_ml) and have_ml > 0.0:
        return 0
    if not size_ml:
        return 1
    count = max(1, ceil((want_ml - have_ml) / size_ml))
    # The last tube is not bought for a millilitre.
    while count > 1 and enough(have_ml + (count - 1) * size_ml, want_ml):
        count -= 1
    return count
