"""The situations in which two paints are compared, by how paint of their medium is used."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal

import numpy as np

from tubewise.advice.alike.difference import Difference, difference
from tubewise.advice.alike.strength import lab_thin_by_eye, lab_thinned
from tubewise.colour.arrays import Floats
from tubewise.optics.film import BLACK_GROUND
from tubewise.paints.appearance import Company, is_white, lab_thin
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting
from tubewise.paints.wash import WASHES, parts_in_words
from tubewise.pigments.binders import BODY

Kind = Literal["alone", "thin", "dark", "tint", "mix"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sight:
    """Both paints in one situation of a `kind`, CIELAB (DRAWS + 1, 3) each.

    `use` is the way of using them that it belongs to, "" where it is told and not counted.
    """

    kind: Kind
    situation: str
    use: str
    labs: tuple[Floats, Floats]
    partners: str = ""
    parts: str = ""

    def difference(self, apart: Floats, names: tuple[str, str]) -> Difference:
        """The difference, `apart` (DRAWS + 1,) in CIEDE2000, of paints called by `names`."""
        return difference(self.situation, *self.labs, self.partners, self.parts, names, apart)


def sights(
    reference: Paint,
    paint: Paint,
    factor: Floats,
    setting: Setting,
    companies: Sequence[Company] = (),
) -> tuple[Sight, ...]:
    """Two paints in every situation of their setting and in each company.

    `factor` (DRAWS + 1,) parts of the second are taken for one of the first. As a film: alone, thin
    over white and over black, in tints. As body colour the same but not thin. In watercolour in a
    strong, a middle and a pale wash on paper.
    """
    both = reference, paint
    ladder = setting.ladder(reference)
    mixes = _mixed("mix", "in mixtures", both, factor, setting, companies)
    if setting.in_washes:
        strong = setting.lab_alone(reference), setting.lab_alone(paint, factor)
        thin = (
            lab_thinned(reference, setting),
            lab_thin_by_eye(reference, paint, factor, setting),
        )
        return (
            _wash("alone", setting.alone, "strong", strong),
            _wash("thin", "in a middle wash", "middle", thin),
            *_mixed("tint", "in a pale wash", both, factor, setting, ladder[1:]),
            *mixes,
        )
    white = is_white(reference)
    alone = setting.lab_alone(reference), setting.lab_alone(paint)
    # How well a film hides is no matter of tinting strength: the same film of each.
    over_black = partial(lab_thin, ground=BLACK_GROUND, surface=setting.surface)
    dark = over_black(reference), over_black(paint)
    films = [
        Sight(kind="alone", situation="alone", use="alone", labs=alone),
        Sight(kind="dark", situation="thin over black", use="", labs=dark),
    ]
    if setting.laid != BODY or white:
        thin = (
            lab_thinned(reference, setting),
            lab_thin_by_eye(reference, paint, factor, setting),
        )
        films.insert(1, Sight(kind="thin", situation="thin over white", use="thin", labs=thin))
    use = "lightening" if white else "in tints"
    return (*films, *_mixed("tint", use, both, factor, setting, ladder), *mixes)


def _wash(kind: Kind, words: str, strength: str, labs: tuple[Floats, Floats]) -> Sight:
    """Both paints in a wash of a `strength`."""
    parts = parts_in_words(1.0, WASHES[strength])
    return Sight(kind=kind, situation=words, use=words, labs=labs, parts=parts)


def _mixed(
    kind: Kind,
    use: str,
    both: tuple[Paint, Paint],
    factor: Floats,
    setting: Setting,
    companies: Iterable[Company],
) -> list[Sight]:
    """In each company, with its partners' names and, where it does not name them, its parts."""
    body = setting.lightener.name
    water = f" {body}" if setting.in_washes else ""
    out = []
    for company in companies:
        partners = [p.name for p in company.paints if p.name != body] or [body]
        parts = company.parts_text + water
        if kind == "tint":
            parts = parts_in_words(1.0, company.parts[0]) if setting.in_washes else ""
        out.append(
            Sight(
                kind=kind,
                situation=company.name,
                use=use,
                labs=(
                    setting.lab_with(both[0], company),
                    setting.lab_with(both[1], company, factor),
                ),
                partners=" + ".join(partners),
                parts=parts,
            )
        )
    return out


def by_use(found: Sequence[Sight], apart: Floats, deep: bool) -> dict[str, Floats]:
    """How far the paints are apart in each way of using them, (DRAWS + 1,), each its mean.

    `apart` (situations, DRAWS + 1) is CIEDE2000; two `deep` masstones count for nothing.
    """
    uses: dict[str, list[Floats]] = {}
    for sight, distance in zip(found, apart, strict=True):
        if sight.use and not (deep and sight.kind == "alone"):
            uses.setdefault(sight.use, []).append(distance)
    return {use: np.mean(distances, axis=0) for use, distances in uses.items()}
