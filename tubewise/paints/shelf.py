"""The paints at hand: turns tubes and typed terms into paints, once each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from tubewise import labels
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.srgb import lab_from_hex
from tubewise.errors import UserError
from tubewise.paints.composition import (
    SCREEN_ERROR,
    SWATCH_ERROR,
    bends,
    compose,
    masstone_lab,
)
from tubewise.paints.paint import (
    BATCH_SHADE,
    DRAWS,
    GUESS,
    Paint,
    least_sure,
    load_draws,
    pigment_stack,
    seeded,
)
from tubewise.pigments import models
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube

Floats = NDArray[np.float64]


class Measured(Protocol):
    """Optics fitted to somebody's own measurement of a tube."""

    def draws(self, n: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
        """Best estimate, then n draws: K and S, each (n + 1, 36)."""
        ...

    @property
    def summary(self) -> str:
        """One line: when, with what, how well it fits."""
        ...

    @property
    def confidence(self) -> str:
        """high, medium or low, by how much was measured."""
        ...


# How near (CIEDE2000) a form must come to the swatch, and how much nearer than the next, to be
# settled by it.
LIKENS = 10.0
SETTLES = 4.0


def settled_form(tube: Tube) -> Ref | None:
    """The ref of the form that a measured swatch points to where the label is silent, or None.

    Only for tubes of one pigment: in a mixture the swatch is needed for the parts.
    """
    declared = tube.reading.pigments
    if tube.swatch_lab is None or len(declared) != 1 or not declared[0].form_assumed:
        return None
    pigment = load().get(declared[0].code)
    forms = pigment.refs if pigment else ()
    if len(forms) < 2:
        return None
    best = [models.optics(ref) for ref in forms]
    lab = masstone_lab(np.stack([b.K for b in best]), np.stack([b.S for b in best]))
    miss = delta_e_2000(lab, np.asarray(tube.swatch_lab, dtype=np.float64))
    first, second = np.argsort(miss)[:2]
    sure = miss[first] < LIKENS and miss[second] - miss[first] > SETTLES
    return forms[first] if sure else None


class Shelf:
    """Paints by tube and by term, computed on first use and kept.

    `tubes` can be named in terms by their id; `measured` maps tube ids to measured optics, which
    then stand before any model.
    """

    def __init__(
        self, tubes: Iterable[Tube] = (), measured: Mapping[str, Measured] | None = None
    ) -> None:
        self.tubes = {tube.id: tube for tube in tubes}
        self._measured = dict(measured or {})
        self._paints: dict[object, Paint | None] = {}

    def pigment(self, ref: str) -> Paint:
        """The paint of one pigment at artist strength, e.g. `PV19/gamma`."""
        ref = Ref(ref)
        if ref not in self._paints:
            best = models.optics(ref)
            K, S = pigment_stack(ref)
            self._paints[ref] = Paint(
                ref,
                None,
                (ref,),
                (1.0,),
                K,
                S,
                "modelled",
                best.confidence,
                (best.note,) if best.note else (),
            )
        paint = self._paints[ref]
        assert paint is not None
        return paint

    def blend(self, refs: Sequence[str], swatch: Floats | None = None) -> Paint:
        """The paint of several pigments, in parts solved from `swatch` (CIELAB) when given."""
        if len(refs) == 1 and swatch is None:
            return self.pigment(refs[0])
        pigments = tuple(map(Ref, refs))
        K, S, sure, notes = self._stacks(pigments)
        made = compose(K, S, seeded(" + ".join(refs)), swatch)
        guess = swatch is None
        return Paint(
            " + ".join(pigments),
            None,
            pigments,
            made.shares,
            made.K,
            made.S,
            "modelled",
            "low" if guess else sure,
            (*notes, *((f"the parts of its pigments are a {GUESS}",) if guess else ())),
        )

    def tube(self, tube: Tube) -> Paint | None:
        """The paint in a tube, or None when nothing says which pigments are in it."""
        if tube not in self._paints:
            self._paints[tube] = self._open(tube)
        return self._paints[tube]

    def term(self, term: str) -> Paint:
        """The paint that a person's TERM means: a tube's id or a pigment such as `PV19/gamma`.

        Raises UserError with the nearest known terms when it means neither.
        """
        if term in self.tubes:
            paint = self.tube(self.tubes[term])
            if paint is None:
                raise UserError(
                    "this tube declares no pigments, so its mixtures cannot be predicted; "
                    "add its label or a measurement",
                    where=term,
                )
            return paint
        try:
            return self.pigment(labels.typed_ref(term, where=f"“{term}”"))
        except UserError as error:
            near = self._nearest(term)
            if not near:
                raise
            raise UserError(f"neither a pigment nor a tube we know{near}", where=f"“{term}”") from (
                error
            )

    def _nearest(self, term: str) -> str:
        from rapidfuzz import fuzz, process

        near = process.extract(term, list(self.tubes), scorer=fuzz.WRatio, limit=3, score_cutoff=70)
        return " (did you mean " + ", ".join(hit[0] for hit in near) + "?)" if near else ""

    @staticmethod
    def _stacks(refs: tuple[Ref, ...]) -> tuple[Floats, Floats, str, tuple[str, ...]]:
        best = [models.optics(ref) for ref in refs]
        stacks = [pigment_stack(ref) for ref in refs]
        return (
            np.stack([K for K, _ in stacks]),
            np.stack([S for _, S in stacks]),
            least_sure(*(b.confidence for b in best)),
            tuple(b.note for b in best if b.note),
        )

    def _open(self, tube: Tube) -> Paint | None:
        known = load()
        form = settled_form(tube)
        declared = (form,) if form else tube.refs
        refs = tuple(r for r in declared if known.get(r.code) is not None)
        strange = [p.code for p in tube.reading.pigments if known.get(p.code) is None]
        name = tube.title
        if tube.id in self._measured:
            measured = self._measured[tube.id]
            K, S = measured.draws(DRAWS, seeded(tube.id))
            return Paint(
                name,
                tube,
                refs,
                (1.0,) * len(refs),
                K,
                S,
                "measured",
                measured.confidence,
                (measured.summary,),
            )
        if not refs:
            return None
        K, S, sure, notes = self._stacks(refs)
        told: list[str] = list(notes)
        if strange:
            sure = "low"
            told.append(f"{', '.join(strange)} is in no register we know and is left out")
        swatch: Floats | None = None
        error = SWATCH_ERROR
        if tube.swatch_lab is not None:
            swatch = np.asarray(tube.swatch_lab, dtype=np.float64)
        elif tube.swatch_hex:
            swatch, error = lab_from_hex(tube.swatch_hex), SCREEN_ERROR
            told.append("its swatch is a screen colour, used only as a hint")
        rng = seeded(tube.paint)
        K = K.copy()
        K[:, 1:] *= bends(rng, DRAWS, BATCH_SHADE)
        made = compose(K, S, rng, swatch, error)
        if swatch is None and len(refs) > 1:
            sure = "low"
            told.append(f"the parts of its pigments are a {GUESS}: no swatch colour")
        if made.miss is not None and made.miss > 6.0 and error == SWATCH_ERROR:
            sure = "low"
            told.append(
                f"its swatch is {made.miss:.0f} CIEDE2000 from anything these pigments make: "
                "the label or the swatch may be wrong"
            )
        strength = load_draws(tube)
        if tube.grade == "student":
            told.append("student grade: taken to hold about half the pigment of artist grade")
        return Paint(
            name,
            tube,
            refs,
            made.shares,
            made.K * strength,
            made.S * strength,
            "modelled",
            sure,
            tuple(told),
            strength,
        )
