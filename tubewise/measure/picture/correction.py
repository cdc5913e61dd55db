"""From a camera's linear light to XYZ, fitted to what is known on the picture."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_xyz

# Linear sRGB to XYZ, IEC 61966-2-1, white at Y = 1.
SRGB: Final = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
).T
Kind = Literal["root polynomial", "matrix", "levels"]
GREY: Final = 12.0  # chroma below which known patches tell nothing of the camera's colours
MOST_TONE: Final = (0.75, 1.35)


@dataclass(frozen=True, kw_only=True, slots=True)
class Correction:
    """`kind` of fit with its `matrix`; `tone` bends linear light first; `gain` scales channels.

    `residuals` are CIEDE2000 of the known patches left out one by one, or after the fit where
    there are too few.
    """

    kind: Kind
    matrix: Floats
    tone: float
    gain: Floats
    residuals: Floats

    def lab(self, linear: Floats) -> Floats:
        """CIELAB D65/2° of linear light, shape (..., 3)."""
        return lab_from_xyz(100 * np.maximum(self.xyz(linear), 1e-5))

    def xyz(self, linear: Floats) -> Floats:
        """XYZ, white Y = 1, of linear light, shape (..., 3)."""
        light = np.maximum(linear, 1e-6) * self.gain
        light = np.sign(light) * np.abs(light) ** self.tone
        found: Floats = _terms(light, self.kind) @ self.matrix
        return found


def _terms(light: Floats, kind: Kind) -> Floats:
    if kind != "root polynomial":
        return light
    r, g, b = (light[..., k] for k in range(3))
    # Root-polynomial terms keep their proportions when the exposure changes
    # (Finlayson, Mackiewicz & Hurlbert 2015).
    return np.stack([r, g, b, np.sqrt(r * g), np.sqrt(g * b), np.sqrt(r * b)], axis=-1)


def fit(linear: Floats, xyz: Floats, *, raw: bool = False) -> Correction:
    """The correction from known patches: linear light (n, 3) and XYZ (n, 3) with white Y = 1.

    Fifteen or more give a root polynomial, three or more with colour a matrix; fewer, or greys,
    only levels and a tone curve. `raw` light is bent by no tone, and its colours are the camera's
    own, which may be far from sRGB's.
    """
    greys = float(np.hypot(*lab_from_xyz(100 * xyz)[:, 1:].T).max()) < GREY
    if len(linear) < 3 or (greys and len(linear) < 6):
        return _levels(linear, xyz)
    kind: Kind = "root polynomial" if len(linear) >= 15 else "matrix"
    tone = _tone(linear, xyz, kind) if len(linear) >= 6 and not raw else 1.0
    whole = _solved(linear, xyz, kind, tone, raw)
    left_out = []
    for k in range(len(linear)):
        rest = np.arange(len(linear)) != k
        other = _solved(linear[rest], xyz[rest], kind, tone, raw)
        left_out.append(_missed(other, linear[k], xyz[k]))
    return Correction(
        kind=kind, matrix=whole.matrix, tone=tone, gain=np.ones(3), residuals=np.array(left_out)
    )


def _tone(linear: Floats, xyz: Floats, kind: Kind) -> float:
    """The exponent that fits best: cameras bend the light they write, each a little otherwise."""
    tried = np.linspace(*MOST_TONE, 25)
    misses = [float(np.mean(_missed(_solved(linear, xyz, kind, t), linear, xyz))) for t in tried]
    return float(tried[int(np.argmin(misses))])


def _solved(linear: Floats, xyz: Floats, kind: Kind, tone: float, raw: bool = False) -> Correction:
    terms = _terms(np.maximum(linear, 1e-6) ** tone, kind)
    # Errors count as the eye sees them: relative to the lightness of each patch.
    weight = 1 / np.maximum(xyz[:, 1], 0.02) ** (2 / 3)
    ridge = (0.002 if kind == "root polynomial" else 0.001) * np.eye(terms.shape[1])
    start = np.zeros((terms.shape[1], 3))
    weighted = terms * weight[:, None]
    plain = weighted[:, :3] @ SRGB
    scale = float((plain * xyz * weight[:, None]).sum() / (plain**2).sum())
    start[:3] = scale * SRGB
    if raw and kind == "root polynomial":
        # So many patches settle the camera's own matrix; only what bends it is held back.
        start[:3] = np.linalg.lstsq(weighted[:, :3], xyz * weight[:, None], rcond=None)[0]
    wanted = (xyz - terms @ start) * weight[:, None]
    change = np.linalg.solve(weighted.T @ weighted + ridge * len(linear), weighted.T @ wanted)
    return Correction(
        kind=kind, matrix=start + change, tone=tone, gain=np.ones(3), residuals=np.zeros(0)
    )


def _levels(linear: Floats, xyz: Floats) -> Correction:
    """Gain of each channel and one tone, from one to five known patches of little colour."""
    wanted = np.maximum(xyz @ np.linalg.inv(SRGB), 1e-5)
    seen = np.maximum(linear, 1e-5)
    tone = 1.0
    if len(linear) > 1:
        x, y = np.log(seen), np.log(wanted)
        dx, dy = x - x.mean(axis=0), y - y.mean(axis=0)
        if float((dx**2).sum()) > 0.05:
            tone = float(np.clip((dx * dy).sum() / (dx**2).sum(), *MOST_TONE))
    gain = np.exp((np.log(wanted) / tone - np.log(seen)).mean(axis=0))
    found = Correction(kind="levels", matrix=SRGB, tone=tone, gain=gain, residuals=np.zeros(0))
    return Correction(
        kind="levels", matrix=SRGB, tone=tone, gain=gain, residuals=_missed(found, linear, xyz)
    )


def _missed(found: Correction, linear: Floats, xyz: Floats) -> Floats:
    return np.asarray(delta_e_2000(found.lab(linear), lab_from_xyz(100 * xyz)))
