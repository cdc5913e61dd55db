"""Which of two tubes of one colour a painter squeezes."""

from __future__ import annotations

from tubewise.advice.currency import compared
from tubewise.tubes.tube import Tube


def handiness(tube: Tube, usual: str) -> tuple[bool, float, str]:
    """Sort key: artist grade, cheap by the millilitre; a tube of unknown price comes last.

    Where nothing parts them it is by id, so that the order of the box does not matter.
    """
    per_ml = tube.price / tube.size_ml if tube.price is not None and tube.size_ml else None
    return tube.grade == "student", compared(per_ml, tube.currency, usual), tube.id
