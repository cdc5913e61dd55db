"""A problem as the kernels want it, checked."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_relative
from tubewise.optics.surface import Surface, internal_from_measured
from tubewise.search.kernels.layout import BANDS, Aim, Film, Indices, Paints
from tubewise.search.problem import LARGEST_SET, SearchProblem


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Prepared:
    """A problem as the kernels want it: contiguous arrays, only the paints that may be used.

    `rows` (n,): which of the asker's paints these are; `penalty`, `family` (n,) and `must` as in
    `SearchProblem`, in the paints' new order.
    """

    rows: Indices
    paints: Paints
    film: Film
    aim: Aim
    penalty: Floats
    family: Indices
    must: tuple[int, ...]
    ask: SearchProblem = field(repr=False)


def prepare(ask: SearchProblem) -> Prepared:
    """Check a problem and lay it out for the kernels.

    ValueError for wrong shapes and for wishes that clash.
    """
    K = np.ascontiguousarray(ask.K, dtype=np.float64)
    S = np.ascontiguousarray(ask.S, dtype=np.float64)
    _check(ask, K, S)
    forbidden = set(ask.must_not)
    rows = np.array([i for i in range(len(K)) if i not in forbidden], dtype=np.int64)
    if not rows.size:
        raise ValueError("no paint is left to choose from")
    place = {int(row): i for i, row in enumerate(rows)}
    must = tuple(sorted({place[i] for i in ask.must}))
    penalty = np.zeros(len(K)) if ask.penalty is None else np.asarray(ask.penalty, dtype=float)
    film = _film(ask)
    K, S = np.ascontiguousarray(K[rows]), np.ascontiguousarray(S[rows])
    return Prepared(
        rows=rows,
        paints=Paints(K, S, strength_units(K, S, film)),
        film=film,
        aim=_aim(ask),
        penalty=np.ascontiguousarray(penalty[rows]),
        family=_families(ask, rows, must),
        must=must,
        ask=ask,
    )


def _check(ask: SearchProblem, K: Floats, S: Floats) -> None:
    """ValueError for arrays that are no paints, and for wishes that exclude each other."""
    if K.ndim != 2 or K.shape[1] != BANDS or K.shape != S.shape:
        raise ValueError(f"K and S must both be (n, {BANDS}), not {K.shape} and {S.shape}")
    if not (np.isfinite(K).all() and np.isfinite(S).all() and (K >= 0).all() and (S >= 0).all()):
        raise ValueError("K and S must be finite and not negative")
    if not 1 <= ask.max_paints <= LARGEST_SET:
        raise ValueError(f"max_paints must be 1 to {LARGEST_SET}, not {ask.max_paints}")
    if set(ask.must) & set(ask.must_not):
        raise ValueError("a paint cannot be both required and forbidden")
    if len(set(ask.must)) > ask.max_paints:
        raise ValueError("more paints are required than the recipe may have")
    if ask.max_parts is not None and ask.max_parts < max(1, len(set(ask.must))):
        raise ValueError("max_parts leaves no part for every required paint")


def _aim(ask: SearchProblem) -> Aim:
    """What is to be met. ValueError when the colour or the spectrum that it needs is missing."""
    weights = np.asarray(ask.weights, dtype=np.float64).reshape(-1, BANDS, 3)
    whites = np.asarray(ask.whites, dtype=np.float64).reshape(-1, 3)
    if ask.objective == "one light":
        weights, whites = weights[:1], whites[:1]
    W = np.ascontiguousarray((weights / whites[:, None, :]).transpose(0, 2, 1))
    goal = np.full(BANDS, np.nan)
    if ask.objective == "spectral":
        if ask.target_reflectance is None:
            raise ValueError("the spectral objective needs a target reflectance")
        goal = np.asarray(ask.target_reflectance, dtype=np.float64).copy()
    if ask.target_lab is None:
        if ask.target_reflectance is None:
            raise ValueError("a target colour or a target reflectance is needed")
        return Aim(W, lab_from_relative(W @ np.asarray(ask.target_reflectance, float)), goal)
    lab = np.asarray(ask.target_lab, dtype=np.float64).reshape(-1, 3)
    if len(lab) < len(W):
        raise ValueError("one target colour is needed for each light")
    return Aim(W, np.ascontiguousarray(lab[: len(W)]), goal)


def _film(ask: SearchProblem) -> Film:
    """The film that mixtures are seen as; the ground inside it, from what is measured bare."""
    surface = Surface(ask.k1, ask.k2, ask.specular_included)
    ground = np.zeros(BANDS)
    if ask.film_thickness is not None:
        measured = np.asarray(1.0 if ask.ground is None else ask.ground, dtype=np.float64)
        inner = internal_from_measured(np.broadcast_to(measured, (BANDS,)), surface)
        ground = np.clip(inner, 0.0, 1.0)
    return Film(
        k2=float(surface.k2),
        gain=float((1.0 - surface.k1) * (1.0 - surface.k2)),
        base=float(surface.k1 if surface.specular_included else 0.0),
        thickness=float(ask.film_thickness or 0.0),
        ground=np.ascontiguousarray(ground),
    )


def _families(ask: SearchProblem, rows: Indices, must: tuple[int, ...]) -> Indices:
    """The family of each paint that may be used; required paints of one family are parted."""
    if ask.family is None:
        return np.arange(len(rows))
    family = np.asarray(ask.family, dtype=np.int64)
    if family.shape != (len(ask.K),):
        raise ValueError(f"family must be ({len(ask.K)},), not {family.shape}")
    family = family[rows]
    met: set[int] = set()
    for i in must:
        if int(family[i]) in met:
            family[i] = family.max() + 1
        met.add(int(family[i]))
    return family


def strength_units(K: Floats, S: Floats, film: Film) -> Floats:
    """Volume of each paint (n,) in one unit of amount: 1/mean(K+S); 1 for films.

    An opaque mixture keeps its colour when a paint's K, S and amount are rescaled together, so
    amounts can be counted in units of strength, where half and half lies half-way in appearance.
    A film's colour depends on the absolute K and S of the mixture, so there amounts are shares.
    """
    if film.thickness > 0.0:
        return np.ones(len(K))
    return np.asarray(1.0 / np.maximum((K + S).mean(axis=1), 1e-12), dtype=np.float64)
