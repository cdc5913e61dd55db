"""How a paint conducts itself, as one point: near points are paints that look alike in use.

The point holds what a comparison looks at, alone, thin, in tints and with the usual partners, each
at the strength that a painter would bring it to, as CIELAB whose chroma is drawn together so that a
plain distance tracks CIEDE2000. It only chooses whom to compare; comparisons decide.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import WHITE_GROUND
from tubewise.paints.appearance import Company, appearance, is_white
from tubewise.paints.paint import Paint
from tubewise.paints.setting import TINTS, Setting
from tubewise.paints.wash import WASHES, wash

# The absorption, summed over the bands, of a paint of middling strength; the others are brought
# to it, as far as a comparison would.
_MIDDLING = 20.0
_FURTHEST = 16.0
_DIGITS = 4
# CIEDE2000 takes chroma differences for less where chroma is high: S_C = 1 + 0.045 C
# (ISO/CIE 11664-6). Its integral makes steps of chroma even.
_CHROMA = 0.045
# Two deep masstones decide nothing, and are drawn together below this L*.
_DEEP_L = 30.0


def conduct(paint: Paint, setting: Setting, mates: Sequence[Company]) -> Floats:
    """A paint as a point, (3 n,), in a setting with its mates; see the module."""
    setting = setting.judging(paint)
    white = is_white(paint)
    K, S = paint.K[0], paint.S[0]
    factor = 1.0 if white else _factor(K)
    seen = [setting.reads_alone(paint), _thin(K * factor, S * factor, setting)]
    for company in (*_ladder(setting, white), *mates):
        own = company.own * factor
        parts = np.array([own, *company.parts])
        parts /= parts.sum()
        stack_K = np.stack([K, *(mate.K[0] for mate in company.paints)])
        stack_S = np.stack([S, *(mate.S[0] for mate in company.paints)])
        seen.append(setting.reads(parts @ stack_K, parts @ stack_S))
    lab = lab_from_reflectance(np.stack(seen))
    lab[0] = _shallow(lab[0])
    # Rounded, so that a point that was kept as text is the same point.
    return np.asarray(np.round(_even(lab).ravel(), _DIGITS))


def _factor(K: Floats) -> float:
    return float(np.clip(_MIDDLING / max(float(K.sum()), 1e-9), 1.0 / _FURTHEST, _FURTHEST))


def _ladder(setting: Setting, white: bool) -> tuple[Company, ...]:
    """Tints of a paint, or a blue lightened by a white, as `Setting.ladder` has them."""
    if white:
        return tuple(Company("", (setting.tester,), (1.0,), n) for n in TINTS)
    parts = TINTS if not setting.in_washes else (WASHES["middle"], WASHES["pale"])
    return tuple(Company("", (setting.lightener,), (n,), 1.0) for n in parts)


def _thin(K: Floats, S: Floats, setting: Setting) -> Floats:
    if setting.in_washes:
        return wash(K, S, WASHES["middle"])
    return appearance(K, S, "thin", WHITE_GROUND)


def _shallow(lab: Floats) -> Floats:
    """A masstone, the greyer the deeper it is."""
    depth = np.clip(lab[0] / _DEEP_L, 0.0, 1.0)
    return np.array([max(lab[0], _DEEP_L), lab[1] * depth, lab[2] * depth])


def _even(lab: Floats) -> Floats:
    """CIELAB (..., 3) with chroma drawn together."""
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    drawn = np.log1p(_CHROMA * chroma) / _CHROMA
    scale = np.where(chroma > 1e-9, drawn / np.maximum(chroma, 1e-9), 1.0)
    return np.stack([lab[..., 0], lab[..., 1] * scale, lab[..., 2] * scale], axis=-1)
