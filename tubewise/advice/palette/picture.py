"""A palette for a picture: its colours, the fewest tubes for them, and how it would look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from tubewise.advice.palette.chosen import Chosen, chosen, total_price
from tubewise.advice.palette.film import LEAST_SHARE, Film, film_for
from tubewise.advice.palette.offer import Kind, Offer
from tubewise.advice.palette.targets import Nearest, nearest
from tubewise.advice.recipes.target import Target
from tubewise.advice.words.lists import counted
from tubewise.advice.words.price import price_text
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.hexes import rgb8_from_lab
from tubewise.colour.patch import Colour
from tubewise.colour.smooth import smooth_reflectance
from tubewise.colour.srgb import lab_from_linear, linear_from_encoded
from tubewise.colour.words import hue_name
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.search.cover import Covering

Pixels = NDArray[np.uint8]
# CIEDE2000 within which a picture's colour counts as had: beyond it the difference is seen at a
# glance.
WITHIN = 5.0
COLOURS = 24
# Levels a channel is rounded to while colours are counted, and pixels of the longer side shown.
BITS, SHOWN = 5, 900
# A colour so far in CIELAB from the picture's mean is noticed twice as much as its area says.
# common practice, no source.
NOTICED = 25.0
ROUNDS = 25
# Mixtures among which the nearest to a pixel is looked for.
CLOUD = 120_000


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureColour:
    """One colour of a picture: `area` is its part of the picture, `noticed` its weight."""

    name: str
    colour: Colour
    area: float
    noticed: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """The fewest tubes for a picture's colours, and what becomes of it.

    `recipes` for the colours within `within` CIEDE2000, `beyond` those that nothing on offer
    reaches. `within_reach`: part of the area that the tubes bring within; `mean` and `worst`
    (95 % of the area is nearer) CIEDE2000 over the picture. `before` and `after` are its pixels
    (height, width, 3), sRGB.
    """

    medium: str
    within: float
    colours: tuple[PictureColour, ...]
    tubes: tuple[Chosen, ...]
    price: float | None
    currency: str
    recipes: tuple[Nearest, ...]
    beyond: tuple[Nearest, ...]
    at_least: float
    proved: bool
    within_reach: float
    mean: float
    worst: float
    words: str
    before: Pixels = field(repr=False, metadata={"json": False})
    after: Pixels = field(repr=False, metadata={"json": False})


def colours_of(pixels: Pixels, count: int = COLOURS) -> tuple[PictureColour, ...]:
    """The `count` colours that stand for a picture (height, width, 3), the most noticed first.

    Clustered in CIELAB (k-means), weighted by area and by how far they stand out from the mean.
    """
    labs, area = _counted(pixels)
    mean = np.average(labs, axis=0, weights=area)
    weight = area * (1.0 + np.linalg.norm(labs - mean, axis=1) / NOTICED)
    middles, belongs = _clustered(labs, weight, min(count, len(labs)))
    total, noticed = area.sum(), weight.sum()
    found = [
        PictureColour(
            name=f"{number + 1}: {hue_name(middle)}",
            colour=Colour.of(middle),
            area=round(float(area[belongs == i].sum() / total), 4),
            noticed=round(float(weight[belongs == i].sum() / noticed), 4),
        )
        for number, (i, middle) in enumerate(_by_weight(middles, belongs, weight))
    ]
    return tuple(found)


def _by_weight(
    middles: Floats, belongs: NDArray[np.intp], weight: Floats
) -> list[tuple[int, Floats]]:
    of_each = np.bincount(belongs, weights=weight, minlength=len(middles))
    return [(int(i), middles[i]) for i in np.argsort(-of_each) if of_each[i] > 0.0]


def _counted(pixels: Pixels) -> tuple[Floats, Floats]:
    """The distinct colours of a picture in CIELAB (m, 3) and their pixels (m,)."""
    codes = _codes(pixels)
    counts = np.bincount(codes.ravel(), minlength=1 << (3 * BITS))
    some = np.flatnonzero(counts)
    return _lab_of_codes(some), counts[some].astype(np.float64)


def _codes(pixels: Pixels) -> NDArray[np.uint16]:
    """Pixels with each channel rounded, as one number."""
    high = pixels >> (8 - BITS)
    packed = np.left_shift(high[..., 0], 2 * BITS, dtype=np.uint16)
    packed |= np.left_shift(high[..., 1], BITS, dtype=np.uint16)
    return np.asarray(packed | high[..., 2], dtype=np.uint16)


def _lab_of_codes(codes: NDArray[np.intp]) -> Floats:
    mask = (1 << BITS) - 1
    channels = np.stack([(codes >> (2 * BITS)) & mask, (codes >> BITS) & mask, codes & mask], -1)
    return lab_from_linear(linear_from_encoded(channels / mask))


def _clustered(labs: Floats, weight: Floats, count: int) -> tuple[Floats, NDArray[np.intp]]:
    """Middles (count, 3) and which one each colour belongs to; the same every time.

    The start is the heaviest colour, then always the one farthest from all so far, by weight
    (k-means++; Arthur & Vassilvitskii 2007, without the chance).
    """
    middles = labs[[int(np.argmax(weight))]]
    away = ((labs - middles[0]) ** 2).sum(axis=1)
    for _ in range(count - 1):
        middles = np.vstack([middles, labs[int(np.argmax(away * weight))]])
        away = np.minimum(away, ((labs - middles[-1]) ** 2).sum(axis=1))
    belongs = np.zeros(len(labs), dtype=np.intp)
    for _ in range(ROUNDS):
        belongs = cKDTree(middles).query(labs)[1]
        weights_held = np.bincount(belongs, weights=weight, minlength=count)
        sums = np.stack(
            [np.bincount(belongs, weights=weight * labs[:, i], minlength=count) for i in range(3)],
            axis=1,
        )
        moved = np.where(
            weights_held[:, None] > 0.0, sums / np.maximum(weights_held, 1e-12)[:, None], middles
        )
        if np.abs(moved - middles).max() < 0.05:
            break
        middles = moved
    return middles, belongs


def picture(
    pixels: Pixels,
    offer: Offer,
    shelf: Shelf,
    *,
    within: float = WITHIN,
    count: int = COLOURS,
    must: Sequence[str] = (),
    seconds: float = 30.0,
) -> Picture:
    """The fewest tubes of an offer that have a picture's colours, and how it would look in them.

    `pixels` (height, width, 3) sRGB. Raises UserError where not one colour is within reach.
    """
    film = film_for(offer.medium, shelf)
    colours = colours_of(pixels, count)
    targets = [_target(colour) for colour in colours]
    paints = [kind.paint for kind in offer.kinds]
    ask = film.problem(paints, least=LEAST_SHARE)
    labs = np.stack([target.lab for target in targets])
    covering = Covering(ask, labs, within, free=film.free(paints), thins=offer.whites())
    price = np.append(offer.prices(), np.zeros(len(ask.K) - len(paints)))
    costs = [np.ones(len(ask.K)), *([price] if price.any() else [])]
    cover = covering.least(costs, must=offer.rows(must), seconds=seconds)
    kinds = [offer.kinds[i] for i in cover.chosen]
    if not kinds:
        raise UserError(f"none of the picture's colours is within {within:g} of these tubes")
    had = [target for i, target in enumerate(targets) if i not in cover.beyond]
    lost = [target for i, target in enumerate(targets) if i in cover.beyond]
    before = _smaller(pixels)
    after, miss = reproduced(before, kinds, film)
    beyond = nearest(offer.kinds, film, lost, within=within)
    cost = total_price(kinds)
    reach = float((miss <= within).mean())
    return Picture(
        medium=offer.medium,
        within=within,
        colours=colours,
        tubes=tuple(chosen(kind, shelf) for kind in kinds),
        price=cost,
        currency=offer.currency if cost is not None else "",
        recipes=nearest(kinds, film, had, within=within),
        beyond=beyond,
        at_least=round(cover.lower_bound, 2),
        proved=cover.proved,
        within_reach=round(reach, 4),
        mean=round(float(miss.mean()), 2),
        worst=round(float(np.percentile(miss, 95.0)), 2),
        words=_words(kinds, cost, offer.currency, cover.proved, reach, within, beyond),
        before=before,
        after=after,
    )


def _target(colour: PictureColour) -> Target:
    lab = np.array(colour.colour.lab)
    return Target(colour.name, lab, smooth_reflectance(lab), False)


def _smaller(pixels: Pixels) -> Pixels:
    """Every so many pixels of a large picture, enough to look at."""
    step = max(-(-max(pixels.shape[:2]) // SHOWN), 1)
    return np.ascontiguousarray(pixels[::step, ::step])


def reproduced(pixels: Pixels, kinds: Sequence[Kind], film: Film) -> tuple[Pixels, Floats]:
    """A picture in the nearest mixtures of up to four of the kinds, and CIEDE2000 of each pixel.

    Nearest in CIELAB among very many mixtures: good to a unit or so, for looking at.
    """
    codes = _codes(pixels)
    some = np.unique(codes)
    labs = _lab_of_codes(some.astype(np.intp))
    cloud = mixtures(kinds, film)
    shown = cloud[cKDTree(cloud).query(labs)[1]]
    miss = delta_e_2000(labs, shown)
    place = np.searchsorted(some, codes)
    return rgb8_from_lab(shown)[place], miss[place]


def mixtures(kinds: Sequence[Kind], film: Film, count: int = CLOUD) -> Floats:
    """CIELAB (count, 3) of mixtures of up to four of the kinds, spread evenly by strength."""
    paints = [kind.paint for kind in kinds] + ([film.at_hand] if film.at_hand else [])
    K, S = (np.stack([getattr(p, name)[0] for p in paints]) for name in ("K", "S"))
    rng = np.random.default_rng(0)
    size = min(4, len(paints))
    rows = np.argsort(rng.random((count, len(paints))), axis=1)[:, :size]
    unit = np.ones(len(paints)) if film.how == "water" else 1.0 / (K + S).mean(axis=1)
    shares = rng.dirichlet(np.full(size, 0.6), count) * unit[rows]
    shares /= shares.sum(axis=1, keepdims=True)
    dense = np.zeros((count, len(paints)))
    np.put_along_axis(dense, rows, shares, axis=1)
    return film.lab(dense @ K, dense @ S)


def side_by_side(answer: Picture) -> Pixels:
    """Before and after in one picture, with a grey stripe between."""
    stripe = np.full((len(answer.before), 12, 3), 128, dtype=np.uint8)
    return np.concatenate([answer.before, stripe, answer.after], axis=1)


def _words(
    kinds: Sequence[Kind],
    price: float | None,
    currency: str,
    proved: bool,
    reach: float,
    within: float,
    beyond: Sequence[Nearest],
) -> str:
    cost = f" for {price_text(price, currency)}" if price is not None else ""
    least = "proved that fewer will not do" if proved else "not proved the fewest"
    sentence = (
        f"{counted(len(kinds), 'tube')}{cost}: {reach:.0%} of the picture within CIEDE2000 "
        f"{within:g}; {least}"
    )
    if beyond:
        names = ", ".join(f"{colour.name} (misses by {colour.delta_e00:.0f})" for colour in beyond)
        sentence += f"; out of reach of all tubes here: {names}"
    return sentence
