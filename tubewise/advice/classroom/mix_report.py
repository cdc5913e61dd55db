"""A key mix of the lesson as the teacher shows it and as every seat will get it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from tubewise.advice.alike.difference import difference
from tubewise.advice.alike.strength import strength_factor
from tubewise.advice.classroom.standard import slot_of
from tubewise.advice.words.lists import seats_text
from tubewise.advice.words.thresholds import CLOSE, UNNOTICED
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour
from tubewise.paints.appearance import mixed
from tubewise.paints.paint import DRAWS, Paint
from tubewise.paints.setting import Setting, Thinner
from tubewise.paints.shelf import Shelf
from tubewise.tubes.supply import KeyMix, Slot

# What fills each slot at one seat: the best guess first, then the other forms it may be.
Hand = dict[Slot, tuple[Paint, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatMix:
    """One seat's version of a key mix; `missing` names slots taken as bought.

    Where a form is still to be checked, the colour and distances are those of the form that
    strays most. `delta_e00` is CIEDE2000 from the mix as shown, `low` to `high` its 95 % interval;
    `with_care` says that the difference is seen as far as is known, and may be another colour.
    """

    seat: str
    delta_e00: float
    low: float
    high: float
    words: str
    colour: Colour
    missing: tuple[str, ...]
    with_care: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MixReport:
    """A key mix as the lesson means it and as every seat will get it."""

    mix: str
    parts: str
    aim: str
    colour: Colour
    seats: tuple[SeatMix, ...]
    with_care: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strengths:
    """How many parts of one paint do the work of another, found once for each pair, per draw.

    `setting` is how paint is used in the lesson.
    """

    shelf: Shelf
    setting: Setting
    known: dict[tuple[int, int], Floats] = field(default_factory=dict)

    def factor(self, meant: Paint, used: Paint) -> Floats:
        """Parts (DRAWS + 1,) of the paint `held` for one of the paint `meant`."""
        if used is meant:
            return np.ones(DRAWS + 1)
        key = (id(meant), id(used))
        if key not in self.known:
            self.known[key] = strength_factor(meant, used, self.setting)
        return self.known[key]


def mix_report(
    mix: KeyMix,
    slots: Sequence[Slot],
    hands: Sequence[tuple[str, Hand]],
    strengths: Strengths,
) -> MixReport:
    """How a key mix turns out at every seat: `hands` gives each seat with what fills its slots."""
    meant = [strengths.shelf.pigment(ref) for ref, _ in mix.parts]
    served = [slot_of(ref, slots) for ref, _ in mix.parts]
    parts = np.array([part for _, part in mix.parts])
    thinner = strengths.setting.thinner(float(parts.sum()), mix.water)
    aim = _laid(meant, parts, thinner, strengths.setting)
    seats = []
    for seat, hand in hands:
        labs = [
            _by_eye(meant, version, parts, thinner, strengths)
            for version in _versions(meant, served, hand)
        ]
        worst = max(labs, key=lambda lab: float(delta_e_2000(aim[0], lab[0])))
        missing = tuple(slot.slot for slot in served if slot and slot not in hand)
        seats.append(_seat_mix(seat, mix.mix, aim, worst, missing))
    return MixReport(
        mix=mix.mix,
        parts=mix.parts_words,
        aim=mix.aim,
        colour=Colour.of(aim[0]),
        seats=tuple(seats),
        with_care=_with_care(seats),
        words=_words(seats),
    )


def _versions(
    meant: Sequence[Paint], served: Sequence[Slot | None], hand: Hand
) -> list[tuple[Paint, ...]]:
    """What a seat may mix: its likeliest paints, then with one open form at a time.

    The seat hears of the worst. A paint that it lacks is taken as bought.
    """
    options = [
        hand.get(slot, (paint,)) if slot else (paint,)
        for paint, slot in zip(meant, served, strict=True)
    ]
    likeliest = tuple(paints[0] for paints in options)
    others = [
        (*likeliest[:at], other, *likeliest[at + 1 :])
        for at, paints in enumerate(options)
        for other in paints[1:]
    ]
    return [likeliest, *others]


def _by_eye(
    meant: Sequence[Paint],
    used: Sequence[Paint],
    parts: Floats,
    thinner: Thinner,
    strengths: Strengths,
) -> Floats:
    """CIELAB (draws, 3) of the parts as told, mixed of what a seat holds.

    Who has a weaker paint takes more of it.
    """
    each = [
        part * strengths.factor(wanted, own)
        for wanted, own, part in zip(meant, used, parts, strict=True)
    ]
    return _laid(used, np.stack(each, axis=-1), thinner, strengths.setting)


def _laid(paints: Sequence[Paint], parts: Floats, thinner: Thinner, setting: Setting) -> Floats:
    """CIELAB (draws, 3) of a mixture as it is laid, with the lesson's `thinner`.

    In watercolour it is the wash that the mix asks for, else a middle one, and who takes more of a
    weak paint takes no more water.
    """
    water, much = thinner
    thin = np.broadcast_to(np.array(much), (*parts.shape[:-1], len(much)))
    K, S = mixed((*paints, *water), np.concatenate([parts, thin], axis=-1))
    return lab_from_reflectance(setting.reads(K, S))


def _seat_mix(seat: str, mix: str, aim: Floats, lab: Floats, missing: tuple[str, ...]) -> SeatMix:
    """How a seat's mix, CIELAB (draws, 3), stands beside the one that is meant."""
    seen = difference(mix, aim, lab)
    return SeatMix(
        seat=seat,
        delta_e00=seen.delta_e00,
        low=seen.low,
        high=seen.high,
        words=seen.words,
        colour=seen.b,
        missing=missing,
        with_care=seen.delta_e00 >= UNNOTICED and seen.high >= CLOSE,
    )


def _with_care(seats: Sequence[SeatMix]) -> tuple[str, ...]:
    """The seats that get another colour, or may."""
    return tuple(s.seat for s in seats if s.with_care)


def _words(seats: Sequence[SeatMix]) -> str:
    """What the teacher should know before showing the mix."""
    care = _with_care(seats)
    worst = max(seats, key=lambda s: s.delta_e00, default=None)
    if worst is None or (not care and worst.delta_e00 <= UNNOTICED):
        words = "every seat will see what you show"
    elif care:
        words = (
            f"demonstrate with care: {seats_text(care)} may get something else; "
            f"seat {worst.seat}'s is {worst.words}"
        )
    else:
        words = f"nearly what you show; seat {worst.seat}'s is {worst.words}"
    lacking = tuple(s.seat for s in seats if s.missing)
    if lacking:
        words += f"; {seats_text(lacking)} only once they have all its paints"
    return words
