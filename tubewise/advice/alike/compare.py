"""Two tubes side by side: the same or not, alone, thin, tinted and in mixtures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tubewise.advice.alike.behaviour import Comparison, Use, compare_behaviour
from tubewise.advice.alike.character import other_character
from tubewise.advice.alike.difference import Difference
from tubewise.advice.alike.identity import (
    Content,
    Identity,
    contents_of_refs,
    contents_of_tube,
    identity,
)
from tubewise.advice.alike.judgement import NO, TOO_CLOSE, DecidedBy, Judgement, judge_in_use
from tubewise.advice.alike.strength import first_of
from tubewise.advice.binder import apart, common
from tubewise.advice.layers import coat, either_order
from tubewise.advice.purpose import standing
from tubewise.advice.words.kind import kind_text
from tubewise.colour.patch import Colour, swatches
from tubewise.paints.appearance import WHITE, Company
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting
from tubewise.paints.shelf import Shelf
from tubewise.pigments.permanence import cautions
from tubewise.pigments.pigment import Caution
from tubewise.pigments.purpose import PRACTICE, Purpose
from tubewise.pigments.trust import Basis, Confidence, basis_of
from tubewise.tubes.tube import Tube

PARTNERS = ("PB29", "PY74", "PBr7/burnt-sienna")
# One part of the paint, one of its partner, four of white: a mixture light enough to show its hue.
PARTNER_PARTS = (1.0, 1.0, 4.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """The answer of `compare`.

    `step` is yes, "yes, but you will see it" (or may) or no; `verdict` says it with where, how
    much to take and what else to mind. `tint` is the tint 1:10, `tints` the whole ladder;
    `parts_for_one` how many parts of the second do the work of one part of the first; `uses` how
    far they are apart alone, thin, in tints and in mixtures, and `chance_of_another` how likely, 0
    to 1, it is another colour in use after all; `confidence` high, medium or low;
    `swatch` the daub that would settle a close call; `lightfastness` of the first and the second,
    each in its own binder. `paints` are their grades and media, `warnings` what is known against
    their pigments, `character` what else the second does otherwise, `layers` which may lie
    over which. Where the two do not mix the
    step is no, whatever the colours, and "binder" decided. `undertone` and `over_black` are None
    where nobody lays the paint so, see `advice.alike.situations`.
    """

    a: str
    b: str
    identity: Identity
    masstone: Difference
    undertone: Difference | None
    over_black: Difference | None
    tint: Difference
    tints: tuple[Difference, ...]
    mixes: tuple[Difference, ...]
    parts_for_one: float
    uses: tuple[Use, ...]
    chance_of_another: float
    step: str
    verdict: str
    confidence: Confidence
    close_call: bool
    swatch: str
    decided_by: DecidedBy
    reasons: tuple[str, ...]
    basis: Basis
    lightfastness: tuple[str, str]
    cautions: tuple[Caution, ...]
    paints: tuple[str, str]
    warnings: tuple[str, str]
    character: tuple[str, ...]
    layers: tuple[str, ...]

    @property
    def situations(self) -> tuple[Difference, ...]:
        """Every situation, in the order in which it is told."""
        films = (self.masstone, self.undertone, self.over_black)
        return (*(d for d in films if d is not None), *self.tints, *self.mixes)

    def _repr_html_(self) -> str:
        pairs: list[tuple[str, Colour]] = []
        for d in self.situations:
            pairs += [(f"{self.a} {d.situation}", d.a), (f"{self.b} {d.situation}", d.b)]
        return swatches(pairs)


def in_common(answers: Sequence[Compared]) -> tuple[tuple[Difference, ...], ...]:
    """The situations that several comparisons share, one row each with a difference for each.

    A white among watercolours is judged as body colour, so that pairs may have fewer in common.
    """
    films = [(a.masstone, a.undertone, a.over_black) for a in answers]
    rows = zip(*films, strict=True)
    tinted = zip(*(a.tints for a in answers), strict=False)
    mixed = zip(*(a.mixes for a in answers), strict=False)
    return tuple(
        tuple(d for d in row if d is not None)
        for row in (*rows, *tinted, *mixed)
        if all(d is not None for d in row)
    )


def _media(a: Paint, b: Paint, medium: str) -> tuple[str, str]:
    """The medium of each; a pigment is asked about in that of the other, or in `medium`."""
    first, second = (p.tube.medium if p.tube else "" for p in (a, b))
    return (first if a.tube else second) or medium, (second if b.tube else first) or medium


def contents(paint: Paint) -> tuple[Content, ...]:
    """What a paint declares: its tube's label if it has one, else its refs."""
    return contents_of_tube(paint.tube) if paint.tube is not None else contents_of_refs(paint.refs)


def companies(shelf: Shelf, partners: Sequence[str], setting: Setting) -> tuple[Company, ...]:
    """Each partner with white, or with water, in the parts a comparison uses."""
    own, part, body = PARTNER_PARTS
    if setting.in_washes:
        return tuple(
            setting.in_use(Company(f"with {name}", (shelf.term(name),), (part,), own))
            for name in partners
        )
    white = setting.lightener
    pale = "white" if white.name == WHITE else white.name
    return tuple(
        Company(f"with {name} and {pale}", (shelf.term(name), white), (part, body), own)
        for name in partners
    )


def compare(
    a: Tube | str,
    b: Tube | str,
    shelf: Shelf,
    partners: Sequence[str] = (),
    medium: str = "",
    purpose: Purpose = PRACTICE,
) -> Compared:
    """Compare two tubes or terms, mixed with each of `partners` (terms) and white.

    Without partners the usual three are taken: a blue, a yellow and a brown. Paint is judged as it
    is used in its medium, that of the first where they differ, and pigments as in `medium`; what
    does not last for the `purpose` is warned of. Raises UserError for a term or medium nobody
    knows, or a tube that declares nothing.
    """
    first, second = (shelf.term(t.id if isinstance(t, Tube) else t) for t in (a, b))
    named = tuple(partners) or tuple(p for p in PARTNERS if p not in (*first.refs, *second.refs))
    media = _media(first, second, common([medium]))
    setting = shelf.setting(next(filter(None, media), ""))
    seen = _behaviour(first, second, setting, companies(shelf, named, setting))
    same = identity(contents(first), contents(second))
    judged = _bound(judge_in_use(same, first, second, seen), *media)
    stands = [standing(p.refs, m, purpose) for p, m in zip((first, second), media, strict=True)]
    return Compared(
        a=first.name,
        b=second.name,
        identity=same,
        masstone=seen.masstone,
        undertone=seen.undertone,
        over_black=seen.over_black,
        tint=seen.tints[-1],
        tints=seen.tints,
        mixes=seen.mixes,
        parts_for_one=seen.factor,
        uses=seen.uses,
        chance_of_another=seen.in_use_another,
        step=judged.step,
        verdict=_verdict(judged, seen.deciding_swatch),
        confidence=judged.confidence,
        close_call=judged.close_call,
        swatch=seen.deciding_swatch if judged.close_call else "",
        decided_by=judged.decided_by,
        reasons=judged.reasons,
        basis=basis_of(first.basis, second.basis),
        lightfastness=(stands[0].category, stands[1].category),
        cautions=cautions((*first.refs, *second.refs)),
        paints=(_kind(first), _kind(second)),
        warnings=(stands[0].line, stands[1].line),
        character=other_character(first.refs, second.refs, media[1]),
        layers=either_order(coat(first, media[0]), coat(second, media[1])),
    )


def _kind(paint: Paint) -> str:
    return kind_text(paint.tube) if paint.tube else ""


def _bound(judged: Judgement, a: str, b: str) -> Judgement:
    """The judgement, or no where the two media don't mix: then the colour alone is one thing."""
    why = apart(a, b) if a != b else ""
    if not why:
        return judged
    return replace(
        judged,
        step=NO,
        verdict=f"no, not one for the other: {why}. By colour alone: {judged.verdict}",
        does=False,
        decided_by="binder",
        close_call=False,
        confidence="high",
        reasons=(why, *judged.reasons),
    )


def _behaviour(
    first: Paint, second: Paint, setting: Setting, mates: Sequence[Company]
) -> Comparison:
    """One comparison of two paints, whichever is named first: one part of the stronger."""
    if first_of(first, second):
        return compare_behaviour(first, second, setting, mates)
    return compare_behaviour(second, first, setting, mates).turned()


def _verdict(judged: Judgement, swatch: str) -> str:
    """The verdict, or that a swatch must tell, and which; then what is most likely."""
    if not judged.close_call:
        return judged.verdict
    which = f" ({swatch})" if swatch else ""
    return f"{TOO_CLOSE}{which}; most likely {judged.verdict}"
