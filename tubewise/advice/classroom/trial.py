"""A tube tried in one slot of a supply list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from tubewise.advice.alike.behaviour import Comparison, compare_behaviour
from tubewise.advice.alike.character import flakes_instead, other_character
from tubewise.advice.alike.identity import (
    FORM,
    SAME,
    UNKNOWN,
    Identity,
    accepted,
    contents_of_tube,
    vague,
)
from tubewise.advice.alike.judgement import Judgement, judge
from tubewise.advice.classroom.promised_names import promises
from tubewise.advice.classroom.shopping import enough
from tubewise.advice.classroom.standard import Standard
from tubewise.advice.classroom.usual_blends import usual_blend
from tubewise.advice.classroom.verdicts import FILLED, VERDICTS, Verdict
from tubewise.advice.handling import fails
from tubewise.advice.words.thresholds import CLOSE, STANDS_IN
from tubewise.colour.difference import delta_e_2000
from tubewise.labels.kinds import HUE_PAINT
from tubewise.paints.paint import GUESS, Paint
from tubewise.paints.setting import Setting
from tubewise.paints.shelf import Shelf, settled_form
from tubewise.pigments.ref import Ref
from tubewise.pigments.trust import MEASURED
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trial:
    """A tube tried in a slot: the verdict on it, and what it was judged by.

    `reference` is the accepted paint that it comes nearest to, `behaviour` and `judgement` how it
    compares; both None, like `paint`, where nothing says what the tube holds. `small` says that the
    list asks for a larger tube; `character` what a stand-in does otherwise than what is asked for.
    """

    tube: Tube
    verdict: Verdict
    identity: Identity
    reference: Paint
    small: bool
    paint: Paint | None = None
    behaviour: Comparison | None = None
    judgement: Judgement | None = None
    character: tuple[str, ...] = ()

    @property
    def rank(self) -> tuple[int, bool, int, float]:
        """Best first: an unsure stand-in comes after a tube that only needs its form checked.

        Of two that stand in, the one of the same character comes first, transparent for
        transparent.
        """
        unsure = (
            self.verdict == Verdict.STAND_IN
            and self.judgement is not None
            and self.judgement.close_call
        )
        place = VERDICTS.index(Verdict.CHECK_FORM if unsure else self.verdict)
        worst = self.behaviour.worst.delta_e00 if self.behaviour else float("inf")
        return place, unsure or self.small, len(self.character), worst


def try_in_slot(
    tube: Tube, standard: Standard, shelf: Shelf, names: frozenset[str]
) -> Trial | None:
    """How a tube does in a slot, or None when it has no business there.

    `names` are those under which what the slot asks for is sold.
    """
    paint = shelf.tube(tube)
    named = promises(tube, standard, names)
    if paint is None:
        return _unread(tube, standard, named)
    trials = []
    for refs, reference in zip(standard.slot.accept, standard.accepted_paints, strict=True):
        same = accepted(sorted(refs), contents_of_tube(tube))
        if (
            same not in (SAME, FORM)
            and not named
            and _elsewhere(reference, paint, standard.setting)
        ):
            continue
        behaviour = compare_behaviour(reference, paint, standard.setting, standard.companies)
        judgement = judge(same, reference, paint, behaviour)
        verdict = _verdict(same, paint, behaviour, judgement, named)
        usual = usual_blend(sorted(refs), paint.refs, standard.slot.medium)
        if usual:
            verdict = Verdict.RIGHT
            judgement = replace(
                judgement, does=True, close_call=False, reasons=(usual, *judgement.reasons[:-1])
            )
        if not _serves(verdict, refs, paint, standard):
            # What lies about nothing only does not serve: an honest hue paint, and the very paint
            # that is asked for where it does not last.
            honest = hue_words(tube) or verdict == Verdict.RIGHT
            unfit = Verdict.MISSING if honest else Verdict.WRONG
            verdict = unfit if named or same == SAME else None
        if verdict is not None:
            trials.append(
                Trial(
                    tube=tube,
                    verdict=verdict,
                    identity=same,
                    reference=reference,
                    small=not enough(tube, standard.slot),
                    paint=paint,
                    behaviour=behaviour,
                    judgement=judgement,
                    character=_character(verdict, reference, paint, standard),
                )
            )
    return min(trials, key=lambda trial: trial.rank, default=None)


def _character(
    verdict: Verdict, reference: Paint, paint: Paint, standard: Standard
) -> tuple[str, ...]:
    """What a stand-in does otherwise; of the right pigment nothing is said."""
    if verdict != Verdict.STAND_IN:
        return ()
    return other_character(reference.refs, paint.refs, standard.slot.medium)


def _serves(verdict: Verdict | None, refs: Iterable[Ref], paint: Paint, standard: Standard) -> bool:
    """Whether nothing but the colour decides.

    It lasts for the purpose, handles as the slot wishes, and makes no worse film.
    """
    if verdict not in FILLED:
        return True
    flakes = flakes_instead(sorted(refs), paint.refs, standard.slot.medium)
    if verdict == Verdict.STAND_IN and fails(standard.handling, paint.refs):
        return False
    return standard.fit(paint.refs).accepted and not (flakes and verdict != Verdict.RIGHT)


def contradiction(trial: Trial) -> str:
    """What to say where a label names what is asked and what was seen of the paint is not it."""
    if trial.paint is not None and len(trial.paint.refs) > 1 and not trial.paint.contradicted:
        return "it holds the same pigments in other parts: its swatch is another colour"
    return "its label and its swatch contradict each other: one of them is wrong"


def _unread(tube: Tube, standard: Standard, named: bool) -> Trial | None:
    """A tube whose label says nothing that can be judged.

    It is to be looked at where its name, or a code that may be misread, gives reason to.
    """
    likely = {s for w in tube.reading.warnings for s in w.suggestions}
    if not named and not likely & standard.single_codes:
        return None
    return Trial(
        tube=tube,
        verdict=Verdict.CHECK_FORM,
        identity=UNKNOWN,
        reference=standard.paint,
        small=not enough(tube, standard.slot),
    )


def _verdict(
    same: str, paint: Paint, behaviour: Comparison, judgement: Judgement, named: bool
) -> Verdict | None:
    """The verdict on a paint beside one that the slot accepts; None where it is out of place."""
    tube = paint.tube
    assert tube is not None
    contents = contents_of_tube(tube)
    measured = paint.basis == MEASURED
    if same == SAME:
        # A label is believed until the colours that were seen speak against it; a weak or thin
        # paint of the right pigment is the right pigment.
        seen = tube.swatch_lab is not None or measured
        doubted = paint.contradicted or (seen and _another_colour(behaviour))
        return Verdict.CHECK_FORM if doubted else Verdict.RIGHT
    if same == FORM and any(content.assumed for content in contents):
        # A measured swatch can settle which form it is; a label without one cannot.
        settled = settled_form(tube) is not None or measured
        near = behaviour.worst.delta_e00 <= CLOSE
        return Verdict.RIGHT if settled and near else Verdict.CHECK_FORM
    if same == FORM and any(vague(content) for content in contents):
        return Verdict.CHECK_FORM
    if judgement.does:
        return Verdict.STAND_IN
    if not named:
        return None
    if judgement.close_call and any(GUESS in note for note in paint.notes):
        # Nobody knows its parts, and some that are plausible would do: only a swatch can tell.
        return Verdict.STAND_IN
    return Verdict.MISSING if hue_words(tube) else Verdict.WRONG


def hue_words(tube: Tube) -> str:
    """What an honest hue paint's label says of itself; "" where the tube is none."""
    return next((w.message for w in tube.reading.warnings if w.kind == HUE_PAINT), "")


def _another_colour(behaviour: Comparison) -> bool:
    """Whether a paint is another colour anywhere; how it hides is another matter."""
    return any(d.another for d in behaviour.deciding if d is not behaviour.over_black)


def _elsewhere(reference: Paint, paint: Paint, setting: Setting) -> bool:
    """Whether its masstone already tells that it cannot stand in, so the rest need not be mixed."""
    meant, seen = (setting.lab_alone(p)[0] for p in (reference, paint))
    return float(delta_e_2000(meant, seen)) > STANDS_IN
