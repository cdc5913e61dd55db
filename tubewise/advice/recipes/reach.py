"""A colour out of reach: hold its hue, and aim at the strongest of it that the paints can do.

Nearest in CIEDE2000 to a hot magenta may be a grey, which is true and useless. A painter gives up
chroma first and some lightness, and keeps the hue.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lch_from_lab
from tubewise.paints.appearance import appearance
from tubewise.paints.wash import wash
from tubewise.pigments import models
from tubewise.pigments.register import load

# CIELAB units of hue, and of lightness, that weigh as much as one of chroma: the hue is held, and
# lightness is given more freely than chroma. common practice, no source.
HUE_WEIGHT = 3.0
LIGHTNESS_WEIGHT = 0.5
# Below this chroma a colour has no hue worth holding. common practice, no source.
GREY = 8.0
# Hue turned by less than this is hue held: beyond, another colour is named. common practice.
TURNED = 15.0
# How many paints are mixed with each other; of more, those nearest in hue and the neutral ones.
_MOST = 16
_RATIOS = (1 / 15, 1 / 8, 1 / 4, 1 / 2, 1.0, 2.0, 4.0, 8.0, 15.0)
_THIRDS = (1 / 15, 1 / 8, 1 / 4, 1 / 2, 1.0)
_BEST_PAIRS = 24
# Parts of water to one of paint that are tried of each.
_WATERS = np.array([0.0, 1.0, 3.0, 8.0, 20.0])


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """The colour to aim at instead: `lab` (3,) of the target's own hue, as the paints can do it.

    `hue_off` in degrees is how far the strongest mixture found still turns from that hue.
    """

    lab: Floats
    hue_off: float


def hold_hue(
    target: Floats, K: Floats, S: Floats, max_paints: int, washed: bool = False
) -> Held | None:
    """The nearest colour of the target's hue that paints can do, of many mixtures tried.

    target (3,) CIELAB; paints of K, S (n, 36), in mixtures of up to three, never more than
    `max_paints`; `washed` as washes on paper, thinned as far as they need, else as opaque films.
    None for a target too grey to have a hue, and where no mixture comes within
    `TURNED` degrees of it.
    """
    _, C, hue = lch_from_lab(target)
    if C < GREY or not len(K):
        return None
    kept = _nearest(target, K, S)
    labs = _reachable(np.asarray(target), K[kept], S[kept], max_paints, washed)
    best = int(np.argmin(_cost(np.asarray(target), labs)))
    found = lch_from_lab(labs[best])
    turn = float(abs((found[2] - hue + 180.0) % 360.0 - 180.0))
    if turn > TURNED or found[1] < GREY / 2.0:
        return None
    chroma = min(float(found[1]), float(C))
    angle = np.radians(hue)
    lab = np.array([found[0], chroma * np.cos(angle), chroma * np.sin(angle)])
    return Held(lab=lab, hue_off=round(turn, 1))


def _cost(target: Floats, labs: Floats) -> Floats:
    """What each colour (n, 3) gives up against the target, the hue weighing most."""
    goal, seen = lch_from_lab(target), lch_from_lab(labs)
    turn = np.radians((seen[:, 2] - goal[2] + 180.0) % 360.0 - 180.0)
    dH = 2.0 * np.sqrt(seen[:, 1] * goal[1]) * np.sin(turn / 2.0)
    dL, dC = seen[:, 0] - goal[0], np.maximum(goal[1] - seen[:, 1], 0.0)
    return np.asarray((HUE_WEIGHT * dH) ** 2 + (LIGHTNESS_WEIGHT * dL) ** 2 + dC**2)


def any_paint_reaches(target: Floats, miss: float, washed: bool = False) -> bool:
    """Whether ordinary paints of any pigment in the register come nearer than `miss` CIEDE2000.

    Where they do not, only what fluoresces or shines like metal could: our optics know neither.
    """
    best = [models.optics(ref) for ref in load().refs]
    K, S = np.stack([b.K for b in best]), np.stack([b.S for b in best])
    kept = _nearest(target, K, S)
    labs = _reachable(np.asarray(target), K[kept], S[kept], 3, washed)
    return bool(np.min(delta_e_2000(labs, target)) < miss)


def _nearest(target: Floats, K: Floats, S: Floats) -> NDArray[np.int64]:
    """Rows of the paints to try: those nearest in hue, and whatever is nearly neutral."""
    if len(K) <= _MOST:
        return np.arange(len(K))
    alone, thin = (lab_from_reflectance(appearance(K, S, film)) for film in ("opaque", "thin"))
    # A masstone too dark to show a hue shows it in a thin film.
    strong = np.hypot(*alone[:, 1:].T) > np.hypot(*thin[:, 1:].T)
    lch = lch_from_lab(np.where(strong[:, None], alone, thin))
    turn = np.abs((lch[:, 2] - lch_from_lab(target)[2] + 180.0) % 360.0 - 180.0)
    neutral = lch[:, 1] < GREY
    order = np.argsort(np.where(neutral, -1.0, turn), kind="stable")
    # A white and a black are enough of the neutral ones.
    greys = np.flatnonzero(neutral)
    few = greys[np.argsort(lch[greys, 0])[[0, -1]]] if greys.size > 2 else greys
    coloured = order[~neutral[order]][: _MOST - few.size]
    return np.asarray(np.concatenate([few, coloured]), dtype=np.int64)


def _reachable(target: Floats, K: Floats, S: Floats, max_paints: int, washed: bool) -> Floats:
    """CIELAB (n, 3) of the paints alone, of all pairs, and of the best pairs with a third."""
    count = len(K)
    labs = [_lab(np.eye(count), K, S, washed)]
    if max_paints >= 2 and count >= 2:
        pairs = np.array(
            [
                _shares(count, {a: 1.0, b: ratio})
                for a, b in combinations(range(count), 2)
                for ratio in _RATIOS
            ]
        )
        labs.append(_lab(pairs, K, S, washed))
        if max_paints >= 3 and count >= 3:
            cost = _cost(target, labs[-1]).reshape(-1, len(pairs)).min(axis=0)
            best = pairs[np.argsort(cost)[:_BEST_PAIRS]]
            eye = np.eye(count)
            triples = np.concatenate(
                [(1.0 - t) * best + t * row for row in eye for t in np.array(_THIRDS) / 2.0]
            )
            labs.append(_lab(triples, K, S, washed))
    return np.concatenate(labs)


def _shares(n: int, parts: dict[int, float]) -> Floats:
    out = np.zeros(n)
    for i, part in parts.items():
        out[i] = part
    return np.asarray(out / out.sum())


def _lab(shares: Floats, K: Floats, S: Floats, washed: bool) -> Floats:
    """CIELAB of mixtures (m, n): (m, 3), or of washes (waters * m, 3), the strongest first."""
    K, S = shares @ K, shares @ S
    if not washed:
        return lab_from_reflectance(appearance(K, S))
    return lab_from_reflectance(wash(K, S, _WATERS[:, None])).reshape(-1, 3)
