"""The paints at hand: turns tubes and typed terms into paints, once each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Protocol

import numpy as np

from tubewise import labels
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.hexes import lab_from_hex
from tubewise.errors import UserError
from tubewise.optics.surface import GEOMETRIES, MATT_SKIN, converted
from tubewise.optics.swatch import SCREEN_ERROR, SWATCH_ERROR, USUAL_GEOMETRY, Swatch
from tubewise.paints.composition import Composition, compose
from tubewise.paints.paint import DRAWS, GUESS, Paint, load_draws, pigment_stack, seeded
from tubewise.paints.setting import Setting, setting_of
from tubewise.paints.unknown_parts import aimed_at, without_swatch
from tubewise.paints.wash import PAPER, STRAIGHT_FILM, WASHES, WATER_NAME, is_water, water
from tubewise.pigments import models
from tubewise.pigments.binders import WASH, WATERCOLOUR, is_matt, laid_as
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.trust import MEASURED, MODELLED, PUBLISHED, Confidence, least_sure
from tubewise.tubes.naming import TubeNames, tube_meant
from tubewise.tubes.tube import Tube


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
    def confidence(self) -> Confidence:
        """high, medium or low, by how much was measured."""
        ...


# How near (CIEDE2000) a form must come to the swatch, and how much nearer than the next, to be
# settled by it.
LIKENS = 10.0
SETTLES = 4.0
# CIEDE2000 from anything its pigments make at which a swatch and a label don't go together.
REFUSED = 6.0


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
    swatch = swatch_of(tube)
    assert swatch is not None
    K, S = np.stack([b.K for b in best]), np.stack([b.S for b in best])
    # How much water was in a wash nobody knows, so that each form may be as thick as suits it.
    steps = np.linspace(-2.0, 2.0, 9) if swatch.film else np.zeros(1)
    miss = delta_e_2000(swatch.shown(K[:, None], S[:, None], steps), swatch.lab).min(axis=1)
    first, second = np.argsort(miss)[:2]
    sure = miss[first] < LIKENS and miss[second] - miss[first] > SETTLES
    return forms[first] if sure else None


def assumed_forms(tube: Tube) -> tuple[str, ...]:
    """What a tube is taken for where its label leaves open what its colour hangs on.

    `PV19/gamma` for a bare PV19, `PB15:3` for a bare PB15; nothing where a swatch settles it.
    """
    if settled_form(tube) is not None:
        return ()
    register = load()
    taken = []
    for declared in tube.reading.pigments:
        pigment = register.get(declared.code)
        if pigment is not None and pigment.needs and (declared.form_assumed or not declared.form):
            taken.append(pigment.assumed or declared.ref)
    return tuple(taken)


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
        self._settings: dict[str, Setting] = {}
        self._names: TubeNames | None = None

    def pigment(self, ref: str) -> Paint:
        """The paint of one pigment at artist strength, e.g. `PV19/gamma`."""
        ref = Ref(ref)
        if ref not in self._paints:
            best = models.optics(ref)
            stack = pigment_stack(ref)
            self._paints[ref] = Paint(
                ref,
                None,
                (ref,),
                (1.0,),
                stack.K,
                stack.S,
                best.basis,
                best.confidence,
                (best.note,) if best.note else (),
                stack.load,
            )
        paint = self._paints[ref]
        assert paint is not None
        return paint

    def blend(
        self,
        refs: Sequence[str],
        swatch: Floats | None = None,
        geometry: str = USUAL_GEOMETRY,
    ) -> Paint:
        """The paint of several pigments, in parts solved from `swatch` (CIELAB) when given.

        `geometry` says whether the swatch was read with the specular part `excluded` or `included`.
        """
        if len(refs) == 1 and swatch is None:
            return self.pigment(refs[0])
        pigments = tuple(map(Ref, refs))
        K, S, load, sure, notes = self._stacks(pigments)
        rng = seeded(" + ".join(refs))
        made = (
            without_swatch(K, S, rng)
            if swatch is None
            else compose(K, S, rng, Swatch(lab=swatch, geometry=geometry))
        )
        guess = swatch is None
        return Paint(
            " + ".join(pigments),
            None,
            pigments,
            made.shares,
            made.K,
            made.S,
            MODELLED,
            "low" if guess else sure,
            (*notes, *((f"the parts of its pigments are a {GUESS}",) if guess else ())),
            _load_of(made.shares, load),
        )

    def setting(self, medium: str = "") -> Setting:
        """What paint of a medium is judged in, with the whites that are on this shelf."""
        if medium not in self._settings:
            laid = setting_of(medium, self.pigment, self._whites(medium))
            self._settings[medium] = laid
        return self._settings[medium]

    def setting_for(self, *paints: Paint, medium: str = "") -> Setting:
        """What these are judged in: the medium of the first tube among them that says one.

        Where none does it is the `medium`. Water is seen on paper.
        """
        if all(map(is_water, paints)):
            return self.setting(WATERCOLOUR)
        media = (p.tube.medium for p in paints if p.tube is not None and p.tube.medium)
        return self.setting(next(media, medium))

    def _whites(self, medium: str) -> frozenset[str]:
        """The first pigments of the tubes of a medium."""
        return frozenset(
            t.refs[0].code for t in self.tubes.values() if t.medium == medium and t.refs
        )

    def tube(self, tube: Tube) -> Paint | None:
        """The paint in a tube, or None when nothing says which pigments are in it."""
        if tube not in self._paints:
            self._paints[tube] = self._open(tube)
        return self._paints[tube]

    def term(self, term: str) -> Paint:
        """The paint that a person's TERM means: a pigment such as `PV19/gamma`, water, or a tube.

        A tube by its id, or by name, maker, line, medium and code in any order. Raises UserError
        with the candidates or the nearest known where it means several or none.
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
        if term == WATER_NAME:
            return water()
        try:
            return self.pigment(labels.typed_ref(term, where=f"“{term}”"))
        except UserError:
            named = self._named(term)
            if named is None:
                raise
            return self.term(named)

    def _named(self, term: str) -> str | None:
        """The id of the tube that is called so; None where nothing is.

        Raises UserError with the candidates where there are several.
        """
        if not self.tubes:
            return None
        if self._names is None:
            self._names = TubeNames(self.tubes.values())
        found = self._names.meant(term)
        if not found.tubes and not found.near:
            return None
        return tube_meant(term, self._names).id

    @staticmethod
    def _stacks(
        refs: tuple[Ref, ...], paint: str = ""
    ) -> tuple[Floats, Floats, Floats, Confidence, tuple[str, ...]]:
        """K and S (m, DRAWS + 1, 36) and load (m, DRAWS + 1, 1) of pigments in one paint.

        Beside them, the least of their confidences, and their notes.
        """
        best = [models.optics(ref) for ref in refs]
        stacks = [pigment_stack(ref, paint) for ref in refs]
        return (
            np.stack([stack.K for stack in stacks]),
            np.stack([stack.S for stack in stacks]),
            np.stack([stack.load for stack in stacks]),
            least_sure(*(b.confidence for b in best)),
            tuple(b.note for b in best if b.note),
        )

    def _open(self, tube: Tube) -> Paint | None:
        known = load()
        form = settled_form(tube)
        declared = (form,) if form else tube.refs
        refs = tuple(r for r in declared if known.get(r.code) is not None)
        if tube.id in self._measured:
            return _own(tube, refs, self._measured[tube.id])
        if not refs:
            return None
        K, S, loads, sure, notes = self._stacks(refs, tube.paint)
        remarks: list[str] = list(notes)
        strange = [p.code for p in tube.reading.pigments if known.get(p.code) is None]
        if strange:
            sure = "low"
            remarks.append(f"{', '.join(strange)} is in no register we know and is left out")
        assumed = assumed_forms(tube)
        if assumed:
            sure = "low"
            remarks.append(f"the label leaves the form open: taken for {', '.join(assumed)}")
        swatch = swatch_of(tube)
        if swatch is not None and tube.swatch_lab is None:
            remarks.append("its swatch is a screen colour, used only as a hint")
        rng = seeded(tube.paint)
        if swatch is not None:
            made = compose(K, S, rng, swatch)
        else:
            made = without_swatch(K, S, rng, ordered=True, aim=aimed_at(tube.name))
        if swatch is None and len(refs) > 1:
            sure = "low"
            remarks.append(
                f"the parts of its pigments are a {GUESS}: no swatch colour, so it is judged over "
                "all that is plausible"
            )
        doubt = _doubt(made, swatch, K, S, tube)
        if doubt:
            sure = "low"
            remarks.append(doubt)
        strength = load_draws(tube)
        if tube.grade == "student":
            remarks.append("student grade: taken to hold about half the pigment of artist grade")
        published = len(refs) == 1 and models.optics(refs[0]).basis == PUBLISHED
        return Paint(
            tube.title,
            tube,
            refs,
            made.shares,
            made.K * strength,
            made.S * strength,
            PUBLISHED if published else MODELLED,
            sure,
            tuple(remarks),
            strength * _load_of(made.shares, loads),
            contradicted=bool(doubt),
        )


def swatch_of(tube: Tube) -> Swatch | None:
    """A tube's swatch as its composition is solved from it, or None without one.

    Nothing said of its geometry means that the mirror reflection was excluded. Of a watercolour it
    is a strong wash on paper; of a white among them, as of all else, a masstone.
    """
    if tube.swatch_lab is not None:
        lab, error = np.asarray(tube.swatch_lab, dtype=np.float64), SWATCH_ERROR
    elif tube.swatch_hex:
        lab, error = lab_from_hex(tube.swatch_hex), SCREEN_ERROR
    else:
        return None
    seen = Swatch(lab=lab, error=error, geometry=_geometry(tube))
    white = all(load().resolve(r)[0].hue == "white" for r in tube.refs if load().get(r.code))
    if laid_as(tube.medium) != WASH or white:
        return seen
    return replace(seen, film=STRAIGHT_FILM / (1.0 + WASHES["strong"]), ground=PAPER)


def _geometry(tube: Tube) -> str:
    """How a swatch was read; a matt skin has no mirror reflection that could be left out."""
    if not is_matt(tube.medium):
        return tube.swatch_geometry or USUAL_GEOMETRY
    return "included" if laid_as(tube.medium) == WASH else MATT_SKIN


def swatch_as_shown(tube: Tube) -> Floats | None:
    """A tube's measured swatch, CIELAB (3,), or None without one.

    It is as predictions show colours: with the mirror reflection, or of a matt skin.
    """
    if tube.swatch_lab is None:
        return None
    geometry = _geometry(tube)
    if geometry == MATT_SKIN:
        return np.asarray(tube.swatch_lab, dtype=np.float64)
    return converted(tube.swatch_lab, geometry, "included")


def _load_of(shares: tuple[float, ...], load: Floats) -> Floats:
    """Load (DRAWS + 1, 1) of a paint from those of its pigments (m, DRAWS + 1, 1)."""
    return np.asarray(np.tensordot(np.asarray(shares), load, axes=1))


def _own(tube: Tube, refs: tuple[Ref, ...], measured: Measured) -> Paint:
    """A tube that somebody measured."""
    K, S = measured.draws(DRAWS, seeded(tube.id))
    equal = (1.0,) * len(refs)
    notes = (measured.summary,)
    return Paint(tube.title, tube, refs, equal, K, S, MEASURED, measured.confidence, notes)


def _doubt(made: Composition, swatch: Swatch | None, K: Floats, S: Floats, tube: Tube) -> str:
    """What to say of a swatch that these pigments can't make, "" where they can."""
    if swatch is None or swatch.error != SWATCH_ERROR or made.miss is None or made.miss <= REFUSED:
        return ""
    other = next(g for g in GEOMETRIES if g != swatch.geometry)
    again = compose(K[:, :1], S[:, :1], seeded(tube.paint), replace(swatch, geometry=other))
    words = f"its swatch is {made.miss:.0f} CIEDE2000 from anything these pigments make: "
    if again.miss is not None and again.miss < REFUSED / 2.0:
        return words + f"was it read with the specular part {other}?"
    return words + "the label or the swatch may be wrong"
