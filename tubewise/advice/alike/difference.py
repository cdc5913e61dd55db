"""How far one paint is from another in one situation, with its interval and in words."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.patch import Colour
from tubewise.colour.words import NEUTRAL_BELOW, describe, difference_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """How far one paint is from another in one situation.

    `delta_e00` is CIEDE2000 of the best estimates, `low` and `high` the 95 % interval;
    the shifts are of the second against the first in CIELAB, and `words` say how the second,
    `subject`, differs from the first, `beside`.
    """

    situation: str
    delta_e00: float
    low: float
    high: float
    lightness_shift: float
    chroma_shift: float
    hue_shift_deg: float
    words: str
    a: Colour
    b: Colour
    with_: str = field(default="", metadata={"json": "with"})
    parts: str = ""
    subject: str = ""
    beside: str = ""

    @property
    def another(self) -> bool:
        """Whether the two are another colour in this situation."""
        return self.delta_e00 >= CLOSE

    @property
    def directions(self) -> str:
        """How the second differs, such as `redder and duller`; "" where nobody would see it."""
        return difference_words(self.a.lab, self.b.lab)

    def words_of(self, subject: str) -> str:
        """The words with the second paint under another name, such as its letter on a card."""
        return describe(self.a.lab, self.b.lab, subject)

    def turned(self) -> Difference:
        """The same of the first paint beside the second."""
        return replace(
            self,
            lightness_shift=-self.lightness_shift,
            chroma_shift=-self.chroma_shift,
            hue_shift_deg=-self.hue_shift_deg,
            words=describe(self.b.lab, self.a.lab, self.beside),
            a=self.b,
            b=self.a,
            subject=self.beside,
            beside=self.subject,
        )


def difference(
    situation: str,
    lab_a: Floats,
    lab_b: Floats,
    with_: str = "",
    parts: str = "",
    names: tuple[str, str] = ("", ""),
    apart: Floats | None = None,
) -> Difference:
    """The difference of two stacks of draws, lab (DRAWS + 1, 3), best estimate first.

    `names` are those of the first and of the second, for the words; `apart` is their CIEDE2000
    (DRAWS + 1,) where it is known already.
    """
    e = delta_e_2000(lab_a, lab_b) if apart is None else apart
    low, high = np.percentile(e[1:], [2.5, 97.5])
    (La, aa, ba), (Lb, ab, bb) = lab_a[0], lab_b[0]
    Ca, Cb = float(np.hypot(aa, ba)), float(np.hypot(ab, bb))
    turn = float(np.degrees(np.arctan2(bb, ab) - np.arctan2(ba, aa)))
    turn = (turn + 180.0) % 360.0 - 180.0
    a, b = Colour.of(lab_a[0]), Colour.of(lab_b[0])
    return Difference(
        situation=situation,
        delta_e00=round(float(e[0]), 2),
        low=round(float(min(low, e[0])), 2),
        high=round(float(max(high, e[0])), 2),
        lightness_shift=round(float(Lb - La), 2),
        chroma_shift=round(Cb - Ca, 2),
        # The hue of a near-grey means nothing.
        hue_shift_deg=round(turn if min(Ca, Cb) > NEUTRAL_BELOW else 0.0, 1),
        # The colours as they are shown, so that the words can be turned round with them.
        words=describe(a.lab, b.lab, names[1]),
        a=a,
        b=b,
        with_=with_,
        parts=parts,
        subject=names[1],
        beside=names[0],
    )
