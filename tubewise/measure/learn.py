"""From a set of drawdowns to measured optics: what can be learnt from it, and what can't."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import N_BANDS
from tubewise.errors import UserError
from tubewise.measure.bands import away, carried, nearest
from tubewise.measure.checks import check
from tubewise.measure.drawdowns import Drawdown, DrawdownSet
from tubewise.measure.fit import Films
from tubewise.measure.joint import PARTS_ERROR, Freedom, JointFit, fit_jointly
from tubewise.measure.judgement import delta_e_of_films, implausible, misfits, not_learned
from tubewise.measure.measured import FilmFit, MeasuredOptics
from tubewise.measure.references import Optics, modelled_white
from tubewise.measure.sample_names import TINT
from tubewise.measure.single import learn_single
from tubewise.optics.film import (
    BLACK_CARD_READS,
    BLACK_GROUND,
    MICRONS_PER_UNIT,
    WHITE_CARD_READS,
    WHITE_GROUND,
    ks_ratio,
    opaque_reflectance,
)
from tubewise.optics.surface import GLOSS, Surface, internal_from_measured, measured_from_internal

# Trust in ln of a film's thickness: an applicator's gap is known, the paint's shrinkage isn't.
_TOLD_THICKNESS = 0.25
_GUESSED_THICKNESS = 1.0
# Where nothing tells the thickness the search starts from a brushed coat, between a scraped film
# and a drawdown, in the unit of optics.film.
_GUESSED_FILM = 20.0
# Parts by weight without densities: artists' paints lie between about 1.0 and 2.2 g/ml
# (common practice, no source), so a ratio may be wrong by a fifth or so.
_DENSITY_SPREAD = 0.2
# Masstones over black and over white that read this near to each other hide the card.
_HIDES = 0.004


def learn(
    drawn: DrawdownSet,
    *,
    tube: str = "",
    white: Optics | None = None,
    model: Optics | None = None,
    fit_surface: bool = False,
    surface: Surface = GLOSS,
) -> MeasuredOptics:
    """Measured optics from a set of drawdowns, as much as the set allows.

    Two films that differ in share or ground give both constants; one opaque film gives the ratio
    K/S, and takes the scattering of `model` (the tube's pigments as modelled) or a plain guess.
    `white` is the white of the tints, by default the modelled PW6; its own reading in the set
    mends its K. `fit_surface` frees Saunderson's constants, for which three films are needed.

    Raises UserError with every reason for which a set is refused.
    """
    paper = white or modelled_white()
    skin = replace(surface, specular_included=drawn.conditions.specular == "included")
    warnings = [*drawn.warnings, *_checked(drawn, paper, skin)]
    assumed = list(drawn.assumed)
    films, merged = _hidden_cards(drawn.films)
    assumed += merged
    if not films:
        raise UserError(
            "No masstone and no tint among the readings; one opaque masstone is the least."
        )
    paper = _white(drawn, paper, skin, assumed, any(f.role.kind == TINT for f in films))
    _tell_surface(skin, fit_surface, assumed)
    if len(films) == 1:
        return learn_single(drawn, films[0], tube, paper, model, skin, assumed, warnings)
    if fit_surface and len(films) < 3:
        raise UserError("Saunderson's constants need three drawdowns or more; leave them fixed.")
    arrays, freedom, taken = _arrays(drawn, films, paper, skin)
    result = fit_jointly(arrays, replace(freedom, surface=fit_surface), skin)
    delta = delta_e_of_films(films, result)
    warnings += misfits(films, arrays, skin, delta)
    seen = np.stack([np.isfinite(f.sigma) for f in films])
    good = seen.sum(axis=0) >= 2
    warnings += implausible(result, paper, good)
    K, S, local, shared = _extended(result, good)
    squares = np.where(seen, result.bands.residuals, 0.0) ** 2
    return MeasuredOptics(
        tube,
        "two constants",
        K,
        S,
        local,
        shared,
        np.sqrt(squares.sum(0) / np.maximum(seen.sum(0), 1)),
        _quality(films, result, delta),
        (result.surface.k1, result.surface.k2),
        drawn.conditions,
        drawn.raw,
        (*assumed, *taken),
        tuple(not_learned(films, result)),
        tuple(dict.fromkeys(warnings)),
    )


def _checked(drawn: DrawdownSet, white: Optics, skin: Surface) -> tuple[str, ...]:
    """Warnings on drawdowns that are odd. Raises UserError for such as can't be right."""
    pure = measured_from_internal(opaque_reflectance(white.K, white.S), skin)
    found = check(drawn, pure if drawn.white is None else drawn.white.R)
    if found.problems:
        raise UserError("These drawdowns can't be right:", problems=found.problems)
    return found.warnings


def _quality(films: Sequence[Drawdown], result: JointFit, delta: Floats) -> tuple[FilmFit, ...]:
    """How well each drawdown is met; `delta` (D,) is CIEDE2000."""
    return tuple(
        FilmFit(
            film.sample,
            film.role.kind,
            film.role.ground,
            film.share,
            float(delta[d]),
            float(np.sqrt(np.mean(result.bands.residuals[d][np.isfinite(film.sigma)] ** 2))),
            float(np.exp(result.parts_error[d])),
            float(result.thickness[d]) if np.isfinite(result.thickness[d]) else None,
        )
        for d, film in enumerate(films)
    )


def _hidden_cards(films: Sequence[Drawdown]) -> tuple[list[Drawdown], list[str]]:
    """Masstones over black and white that agree are opaque ones; others stay films."""
    out = list(films)
    notes: list[str] = []
    for black in films:
        if black.role.ground != "black":
            continue
        pair = next(
            (
                f
                for f in films
                if f.role == replace(black.role, ground="white") and f.share == black.share
            ),
            None,
        )
        if pair is None or float(np.abs(pair.R - black.R).mean()) > _HIDES:
            continue
        mean = replace(
            black,
            role=replace(black.role, ground="opaque", thickness_um=None),
            R=0.5 * (black.R + pair.R),
            raw=(*black.raw, *pair.raw),
        )
        out = [f for f in out if f is not black and f is not pair] + [mean]
        notes.append(
            f"{black.sample} and {pair.sample} read alike: the film hides the card and was "
            "taken as opaque"
        )
    return out, notes


def _white(
    drawn: DrawdownSet, white: Optics, skin: Surface, assumed: list[str], needed: bool
) -> Optics:
    """The white of the tints, its K/S taken from its own reading where there is one."""
    if drawn.white is None:
        if needed:
            assumed.append(f"the white of the tints wasn't read: {white.name} was taken for it")
        return white
    R = np.clip(internal_from_measured(drawn.white.R, skin), 1e-3, 0.9995)
    K = np.where(np.isfinite(drawn.white.sigma), ks_ratio(R) * white.S, white.K)
    assumed.append(f"the white's scattering is that of {white.name}; its absorption was measured")
    return Optics(K, white.S, "the white as measured")


def _tell_surface(skin: Surface, fitted: bool, assumed: list[str]) -> None:
    if not fitted:
        assumed.append(f"a gloss surface with Saunderson's constants {skin.k1:g} and {skin.k2:g}")


def _arrays(
    drawn: DrawdownSet, films: Sequence[Drawdown], white: Optics, skin: Surface
) -> tuple[Films, Freedom, list[str]]:
    remarks: list[str] = []
    ground = np.zeros((len(films), N_BANDS))
    X = np.full(len(films), np.inf)
    number = np.full(len(films), -1)
    strokes: dict[tuple[float, float | None], int] = {}
    for d, film in enumerate(films):
        if film.role.ground == "opaque":
            continue
        card = drawn.card_white if film.role.ground == "white" else drawn.card_black
        white_card = film.role.ground == "white"
        usual = WHITE_GROUND if white_card else BLACK_GROUND
        ground[d] = usual if card is None else internal_from_measured(card.R, skin)
        if card is None:
            reads = WHITE_CARD_READS if white_card else BLACK_CARD_READS
            remarks.append(
                f"the {film.role.ground} card wasn't read: taken to read {100 * reads:g} %"
            )
        microns = film.role.thickness_um
        X[d] = _GUESSED_FILM if microns is None else microns / MICRONS_PER_UNIT
        number[d] = strokes.setdefault((film.share, microns), len(strokes))
    known = all(f.role.thickness_um is not None for f in films if f.role.ground != "opaque")
    if strokes and not known:
        remarks.append(
            "a film of unknown thickness: it was fitted, starting from "
            f"{_GUESSED_FILM * MICRONS_PER_UNIT:g} micrometres wet"
        )
    weighed = [f.role.kind == TINT and f.role.by == "weight" for f in films]
    spread = _DENSITY_SPREAD if not drawn.density_known else PARTS_ERROR
    parts = np.array(
        [
            (spread if by_weight else PARTS_ERROR) if f.role.kind == TINT else 0.0
            for f, by_weight in zip(films, weighed, strict=True)
        ]
    )
    arrays = Films(
        np.stack([f.R for f in films]),
        np.array([f.share for f in films]),
        white.K,
        white.S,
        X,
        ground,
        np.stack([f.sigma for f in films]),
    )
    trust = _TOLD_THICKNESS if known else _GUESSED_THICKNESS
    return arrays, Freedom(parts, number, trust), list(dict.fromkeys(remarks))


def _extended(result: JointFit, good: NDArray[np.bool_]) -> tuple[Floats, Floats, Floats, Floats]:
    """K, S and their covariance, carried from the nearest fitted band to those not read."""
    if not good.any():
        raise UserError("No band was read in two drawdowns alike; measure them over one range.")
    local = carried(result.local, good) + (away(good) ** 2)[:, None, None] * np.eye(2)
    shared = result.shared[:, nearest(good)]
    return carried(result.bands.K, good), carried(result.bands.S, good), local, shared
