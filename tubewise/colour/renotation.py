"""The Munsell renotation as a map between hue, value, chroma and xyY under illuminant C.

Hues are numbers 0 to 100 around the circle: 5 is 5R, 10 is 10R, 15 is 5YR, 95 is 5RP.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats

FAMILIES: Final = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
"""The ten hue families in the order of the hue circle, ten hue steps each."""

WHITE_C_XY: Final = (0.31006, 0.31616)
"""Chromaticity of illuminant C, 2-degree observer, as ASTM D1535 prints it."""

_N_HUES: Final = 40
# Luminance of a Munsell value: the polynomial of ASTM D1535, constant term first.
_LUMINANCE: Final = np.polynomial.Polynomial(
    (0.0, 1.1914, -0.22533, 0.23352, -0.020484, 0.00081939)
)
_SLOPE: Final = _LUMINANCE.deriv()
_VALUE_GRID: Final = np.linspace(0.0, 11.0, 1101)
_LUMINANCE_GRID: Final = _LUMINANCE(_VALUE_GRID)


@dataclass(frozen=True, slots=True)
class _Renotation:
    values: Floats  # (v,) tabulated values, rising
    luminances: Floats  # (v,) their luminances
    rho: Floats  # (v, 40, c) distance from the white in xy, chroma 0, 2, 4 ...
    phi: Floats  # (v, 40, c) angle around the white, radians
    arc: NDArray[np.bool_]  # (v, 40, c) whether the way to the next hue is an arc
    greatest: Floats  # (v, 40) greatest tabulated chroma


@cache
def _renotation() -> _Renotation:
    text = files("tubewise.colour").joinpath("data/renotation.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
    values = np.array(sorted({float(row["value"]) for row in rows}))
    n_chromas = int(max(float(row["chroma"]) for row in rows)) // 2 + 1
    xy = np.full((len(values), _N_HUES, n_chromas, 2), np.nan)
    xy[:, :, 0] = WHITE_C_XY
    arc = np.zeros(xy.shape[:3], dtype=np.bool_)
    for row in rows:
        family = row["hue"].lstrip("0123456789.")
        hue = FAMILIES.index(family) * 4 + round(float(row["hue"].removesuffix(family)) / 2.5)
        at = (
            int(np.searchsorted(values, float(row["value"]))),
            hue % _N_HUES,
            int(float(row["chroma"])) // 2,
        )
        xy[at] = float(row["x"]), float(row["y"])
        arc[at] = row["to_next_hue"] == "radial"
    greatest = 2.0 * (np.isfinite(xy[..., 0]).sum(axis=-1) - 1)
    # Beyond the limits of real colours the last step is continued, so that interpolation at the
    # rim always finds four corners.
    for k in range(2, n_chromas):
        missing = np.isnan(xy[:, :, k, 0])
        xy[missing, k] = 2.0 * xy[missing, k - 1] - xy[missing, k - 2]
        arc[missing, k] = arc[missing, k - 1]
    offset = xy - WHITE_C_XY
    return _Renotation(
        values=values,
        luminances=_LUMINANCE(values),
        rho=np.hypot(offset[..., 0], offset[..., 1]),
        phi=np.arctan2(offset[..., 1], offset[..., 0]),
        arc=arc,
        greatest=greatest,
    )


def luminance_from_value(value: Floats) -> Floats:
    """Luminance Y, perfect white 100, of Munsell values 0-10, any shape. Source: ASTM D1535."""
    luminance: Floats = _LUMINANCE(value)
    return luminance


def value_from_luminance(Y: Floats) -> Floats:
    """Munsell value of luminance Y, perfect white 100, any shape; undoes the polynomial."""
    value = np.interp(Y, _LUMINANCE_GRID, _VALUE_GRID)
    for _ in range(2):
        value = value - (_LUMINANCE(value) - Y) / _SLOPE(value)
    return np.maximum(value, 0.0)


def xy_offset(hue: Floats, value: Floats, chroma: Floats) -> Floats:
    """Chromaticity less that of illuminant C, shape (n, 2), of hue 0-100, value, chroma, each (n,).

    Between tabulated values interpolation is linear in luminance, between chromas linear in xy,
    between hues along a line or arc as ASTM D1535 prescribes. Below value 0.4 the chromaticities
    of 0.4 are held.
    """
    table = _renotation()
    Y = np.clip(luminance_from_value(value), table.luminances[0], table.luminances[-1])
    upper = np.clip(np.searchsorted(table.luminances, Y), 1, len(table.values) - 1)
    lower = upper - 1
    share = (Y - table.luminances[lower]) / (table.luminances[upper] - table.luminances[lower])
    low = _on_level(lower, hue, chroma)
    high = _on_level(upper, hue, chroma)
    return low + share[:, None] * (high - low)


def _on_level(level: NDArray[np.intp], hue: Floats, chroma: Floats) -> Floats:
    last = _renotation().rho.shape[2] - 1
    inner = np.clip(np.floor(chroma / 2.0).astype(np.intp), 0, last - 1)
    share = chroma / 2.0 - inner
    inside, outside = _on_ovoid(level, hue, inner), _on_ovoid(level, hue, inner + 1)
    return inside + share[:, None] * (outside - inside)


def _on_ovoid(level: NDArray[np.intp], hue: Floats, ring: NDArray[np.intp]) -> Floats:
    table = _renotation()
    place = (hue / 2.5) % _N_HUES
    before = np.floor(place).astype(np.intp) % _N_HUES
    after = (before + 1) % _N_HUES
    share = place - np.floor(place)
    rho0, rho1 = table.rho[level, before, ring], table.rho[level, after, ring]
    phi0, phi1 = table.phi[level, before, ring], table.phi[level, after, ring]
    turn = (phi1 - phi0 + np.pi) % (2.0 * np.pi) - np.pi
    along_arc = _from_polar(rho0 + share * (rho1 - rho0), phi0 + share * turn)
    start, end = _from_polar(rho0, phi0), _from_polar(rho1, phi1)
    along_line = start + share[:, None] * (end - start)
    return np.where(table.arc[level, before, ring][:, None], along_arc, along_line)


def _from_polar(rho: Floats, phi: Floats) -> Floats:
    return np.stack((rho * np.cos(phi), rho * np.sin(phi)), axis=-1)


def greatest_chroma(hue: Floats, value: Floats) -> Floats:
    """Greatest chroma tabulated around each hue 0-100 and value, shapes (n,).

    The renotation ends where no surface can go (the MacAdam limits). Where it is continued into
    chromaticities that no light has, as in the darkest blues and greens, it ends before them.
    """
    table = _renotation()
    place = (hue / 2.5) % _N_HUES
    hues = np.stack((np.floor(place), np.ceil(place))).astype(np.intp) % _N_HUES
    upper = np.clip(np.searchsorted(table.values, value), 0, len(table.values) - 1)
    exact = table.values[upper] == value
    lower = np.where(exact, upper, np.maximum(upper - 1, 0))
    corners = [table.greatest[level, h] for level in (lower, upper) for h in hues]
    greatest: Floats = np.max(corners, axis=0)
    return np.minimum(greatest, _last_light(hue, value))


def _last_light(hue: Floats, value: Floats) -> Floats:
    """Chroma (n,) up to which x, y and z of a hue and value stay those of a light: above 0."""
    rings = np.arange(0.0, 2.0 * _renotation().rho.shape[2], 2.0)
    xy = np.stack([xy_offset(hue, value, np.full(len(hue), ring)) for ring in rings]) + WHITE_C_XY
    room = np.concatenate([xy, 1.0 - xy.sum(axis=-1, keepdims=True)], axis=-1) - _LEAST_OF_A_LIGHT
    # Between two rings the chromaticity runs along a line, so the first crossing is exact.
    fall = np.maximum(room[:-1] - room[1:], 1e-12)
    share = np.where(room[1:] < 0.0, np.maximum(room[:-1], 0.0) / fall, np.inf).min(axis=-1)
    crossing = np.where(np.isfinite(share), rings[:-1, None] + 2.0 * share, np.inf)
    return np.asarray(crossing.min(axis=0))


# A light's x, y and z are above 0; this far above it a notation keeps its digits there and back.
_LEAST_OF_A_LIGHT: Final = 0.002

_STEPS: Final = 60
_PRECISE: Final = 1e-9


def hue_and_chroma(offset: Floats, value: Floats) -> tuple[Floats, Floats]:
    """Hue 0-100 and chroma, each (n,), of chromaticity offsets (n, 2) from illuminant C.

    Undoes `xy_offset` by Newton's method on angle and logarithm of distance, in which hue and
    chroma are nearly independent. Where no hue and chroma fit, chroma is nan.
    """
    rho, phi = np.hypot(offset[:, 0], offset[:, 1]), np.arctan2(offset[:, 1], offset[:, 0])
    hue, chroma = np.zeros(len(rho)), np.zeros(len(rho))
    todo = np.flatnonzero(rho > 1e-12)
    if len(todo) == 0:
        return hue, chroma
    guess_hue, guess_chroma = _first_guess(rho[todo], phi[todo], value[todo])
    hue[todo], chroma[todo] = guess_hue, guess_chroma

    def misses(h: Floats, log_c: Floats, at: NDArray[np.intp]) -> Floats:
        got = xy_offset(h, value[at], np.exp(log_c))
        angle = np.arctan2(got[:, 1], got[:, 0]) - phi[at]
        angle = (angle + np.pi) % (2.0 * np.pi) - np.pi
        distance = np.log(np.maximum(np.hypot(got[:, 0], got[:, 1]), 1e-12) / rho[at])
        return np.stack((angle, distance), axis=-1)

    for step in range(_STEPS):
        h, log_c = hue[todo], np.log(chroma[todo])
        miss = misses(h, log_c, todo)
        open_ = np.abs(miss).max(axis=-1) > _PRECISE
        todo, h, log_c, miss = todo[open_], h[open_], log_c[open_], miss[open_]
        if len(todo) == 0:
            break
        by_h = (misses(h + 1e-5, log_c, todo) - miss) / 1e-5
        by_c = (misses(h, log_c + 1e-6, todo) - miss) / 1e-6
        det = by_h[:, 0] * by_c[:, 1] - by_h[:, 1] * by_c[:, 0]
        det = np.where(np.abs(det) < 1e-9, 1e-9, det)
        dh = -(miss[:, 0] * by_c[:, 1] - miss[:, 1] * by_c[:, 0]) / det
        dc = -(by_h[:, 0] * miss[:, 1] - by_h[:, 1] * miss[:, 0]) / det
        # The map has kinks at tabulated hues and chromas; shorter steps end a hopping to and fro.
        pace = 1.0 if step < _STEPS // 3 else 0.5
        hue[todo] = (h + pace * np.clip(dh, -5.0, 5.0)) % 100.0
        chroma[todo] = np.exp(np.clip(log_c + pace * np.clip(dc, -0.5, 0.5), -20.0, 4.0))
    chroma[todo] = np.nan
    return hue, chroma


def _first_guess(rho: Floats, phi: Floats, value: Floats) -> tuple[Floats, Floats]:
    table = _renotation()
    nearest = np.abs(value[:, None] - table.values).argmin(axis=1)
    hue, chroma = np.empty(len(rho)), np.empty(len(rho))
    for level in np.unique(nearest):
        here = nearest == level
        ring = table.phi[level, :, 2]
        order = np.argsort(ring)
        hues = np.unwrap(2.5 * order, period=100.0)
        hue[here] = np.interp(
            phi[here],
            np.concatenate(
                ([ring[order][-1] - 2 * np.pi], ring[order], [ring[order][0] + 2 * np.pi])
            ),
            np.concatenate(([hues[-1] + 100.0], hues, [hues[0] - 100.0])),
        )
        steps = table.rho[level, np.rint(hue[here] / 2.5).astype(np.intp) % _N_HUES, 2]
        chroma[here] = np.clip(4.0 * rho[here] / steps, 1e-6, 50.0)
    return hue % 100.0, chroma
