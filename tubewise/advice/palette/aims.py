"""The colours a lesson depends on, as targets: its slots' paints, their tints, its key mixes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tubewise.advice.classroom.standard import target_paint
from tubewise.advice.palette.film import Film
from tubewise.advice.recipes.batch import is_batch, read_targets
from tubewise.advice.recipes.target import Target
from tubewise.colour.arrays import Floats
from tubewise.colour.smooth import smooth_reflectance
from tubewise.errors import UserError
from tubewise.paints.appearance import WHITE, is_white, mixed
from tubewise.paints.shelf import Shelf
from tubewise.tubes.supply import KeyMix, Slot, SupplyList, read_supply_list
from tubewise.tubes.tube import Tube

# Parts of white, or of water, to one of paint in a tint.
TINT = 10.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Aim:
    """One colour of a lesson: of a `slot`, of a slot's `tint`, or of a key `mix`."""

    target: Target
    slot: Slot | None = None
    mix: KeyMix | None = None
    tint: bool = False


def lesson_aims(
    supply: SupplyList, shelf: Shelf, catalogue: Sequence[Tube], film: Film
) -> tuple[Aim, ...]:
    """The colour of every slot, straight from the tube and pale, and of every key mix.

    Alone many a dark paint is as black as another; what it is shows with ten parts of white, or of
    water. An opaque paint is tinted only where the list has a white.
    """
    aims, tints = [], []
    paints = [
        target_paint(sorted(slot.accept[0]), shelf, slot.medium, catalogue) for slot in supply.slots
    ]
    pale = film.at_hand or (shelf.pigment(WHITE) if any(map(is_white, paints)) else None)
    for slot, paint in zip(supply.slots, paints, strict=True):
        aims.append(Aim(target=_target(slot.slot, paint.K[0], paint.S[0], film), slot=slot))
        if pale is not None and not is_white(paint):
            K, S = mixed([paint, pale], [1.0, TINT])
            name = f"{slot.slot}, 1 : {TINT:g} in {'water' if film.how == 'water' else 'white'}"
            tints.append(Aim(target=_target(name, K[0], S[0], film), slot=slot, tint=True))
    for mix in supply.mixes:
        paints = [shelf.pigment(ref) for ref, _ in mix.parts]
        parts = [float(part) for _, part in mix.parts]
        if mix.water and film.how == "water" and film.at_hand is not None:
            paints, parts = [*paints, film.at_hand], [*parts, float(mix.water)]
        K, S = mixed(paints, parts)
        aims.append(Aim(target=_target(mix.mix, K[0], S[0], film), mix=mix))
    return (*aims, *tints)


def _target(name: str, K: Floats, S: Floats, film: Film) -> Target:
    lab = film.lab(K, S)
    return Target(name, lab, smooth_reflectance(lab), False)


def read_aims(
    path: Path, shelf: Shelf, catalogue: Sequence[Tube], film: Film
) -> tuple[Target, ...]:
    """The targets of a file: a column of colours, or a supply list's slots and mixes.

    Raises UserError where it is neither.
    """
    if is_batch(path):
        return tuple(read_targets(path, shelf))
    try:
        supply = read_supply_list(path)
    except UserError as error:
        raise UserError(
            f"neither a list of targets (a column “target”) nor a supply list: {error}",
            where=path.name,
        ) from None
    return tuple(aim.target for aim in lesson_aims(supply, shelf, catalogue, film))
