"""Recipes from the tubes a person has: one question, however it is asked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from tubewise.advice.exclusion import also_excluded, excluded, required
from tubewise.advice.medium import in_one_medium, left_out_why, mixes_with
from tubewise.advice.recipes.batch import Batch, batch
from tubewise.advice.recipes.problem import MAX_PAINTS, MAX_PARTS
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.results import LeftOut, Recipes
from tubewise.advice.recipes.target import Target, laid_in
from tubewise.advice.recipes.wishes import PLAIN, Wishes
from tubewise.advice.words.pigments import NOTHING_DECLARED
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, kw_only=True, eq=False)
class AtHand:
    """What may be mixed: the `tubes`, as the `shelf` knows them.

    They are of a `medium` where one is asked for; a `shop` may sell what they lack.
    `sold_out` mixes from what is not in stock.
    """

    tubes: Sequence[Tube]
    shelf: Shelf
    medium: str = ""
    shop: Sequence[Tube] = ()
    sold_out: bool = False


@dataclass(frozen=True, kw_only=True, eq=False)
class Mixable:
    """The paints that one answer may mix, in which `medium`, and the tubes it leaves out."""

    medium: str
    paints: tuple[Paint, ...]
    left_out: tuple[LeftOut, ...]


def mixable(
    at_hand: AtHand, wanted: Tube | None = None, without: frozenset[str] = frozenset()
) -> Mixable:
    """The paints at hand that mix with each other and say what they are.

    The `wanted` one is never among them, nor what `without` leaves out by id.

    Raises UserError where the tubes are of several media and nothing says which is meant.
    """
    group = in_one_medium(at_hand.tubes, at_hand.medium, wanted.medium if wanted else "")
    left_out = [_left_out(t, left_out_why(t, group.medium)) for t in group.others]
    paints = []
    for tube in group.tubes:
        paint = at_hand.shelf.tube(tube)
        if wanted is not None and (tube.id == wanted.id or tube.paint == wanted.paint):
            left_out.append(_left_out(tube, "the wanted paint itself"))
        elif tube.id in without:
            left_out.append(_left_out(tube, "as was wished"))
        elif paint is None:
            left_out.append(_left_out(tube, NOTHING_DECLARED))
        elif tube.stock == 0 and not at_hand.sold_out:
            left_out.append(_left_out(tube, "sold out"))
        else:
            paints.append(paint)
    return Mixable(medium=group.medium, paints=tuple(paints), left_out=tuple(left_out))


def _left_out(tube: Tube, why: str) -> LeftOut:
    return LeftOut(tube=tube.id, title=tube.title, why=why)


def recipes_from(
    target: Target,
    at_hand: AtHand,
    max_paints: int = MAX_PAINTS,
    max_parts: int | None = MAX_PARTS,
    wishes: Wishes = PLAIN,
) -> Recipes:
    """The best recipes for a target from the tubes at hand. Raises UserError as `recipe` does."""
    without = excluded(wishes.must_not, at_hand.tubes)
    may = mixable(at_hand, target.tube, without)
    refused = also_excluded(wishes.must_not, at_hand.shop)
    sold = [tube for tube in at_hand.shop if tube.id not in refused]
    shop = on_sale(sold, may.medium, at_hand.shelf)
    by_id = replace(wishes, must=_required(wishes, may.paints), must_not=())
    target = laid_in(target, at_hand.shelf.setting(may.medium))
    answer = recipe(target, may.paints, max_paints, max_parts, may.medium, by_id, shop)
    return replace(answer, left_out=may.left_out)


def _required(wishes: Wishes, paints: Sequence[Paint]) -> tuple[str, ...]:
    return required(wishes.must, [paint.tube for paint in paints if paint.tube is not None])


def batch_from(
    targets: Sequence[Target],
    at_hand: AtHand,
    max_paints: int = MAX_PAINTS,
    max_parts: int | None = MAX_PARTS,
    wishes: Wishes = PLAIN,
    progress: Callable[[int, int], None] | None = None,
) -> Batch:
    """The best recipe for each target from the tubes at hand. Raises UserError as `batch` does."""
    may = mixable(at_hand, without=excluded(wishes.must_not, at_hand.tubes))
    by_id = replace(wishes, must=_required(wishes, may.paints), must_not=())
    setting = at_hand.shelf.setting(may.medium)
    targets = [laid_in(target, setting) for target in targets]
    return batch(targets, may.paints, max_paints, max_parts, may.medium, by_id, progress)


def on_sale(tubes: Sequence[Tube], medium: str, shelf: Shelf) -> list[Paint]:
    """What a painter would buy to fill a gap: artist paint in stock, in the medium mixed in."""
    wanted = (
        t for t in tubes if t.stock != 0 and t.grade != "student" and mixes_with(t.medium, medium)
    )
    return [paint for paint in map(shelf.tube, wanted) if paint is not None]
