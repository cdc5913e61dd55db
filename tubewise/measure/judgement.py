"""What to think of a fit: drawdowns that don't belong together, and what stays unknown."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.errors import UserError
from tubewise.measure.drawdowns import Drawdown
from tubewise.measure.fit import Films, fit_bands
from tubewise.measure.joint import JointFit
from tubewise.measure.references import Optics
from tubewise.measure.sample_names import MASSTONE, TINT
from tubewise.optics.hiding import contrast_ratio
from tubewise.optics.surface import Surface

# CIEDE2000 from the fit at which a drawdown is flagged, and refused.
_FLAGGED = 2.0
_REFUSED = 6.0
# Scattering against titanium white's that is strange, and impossible: nothing in artists' paint
# refracts more than rutile (common practice, no source).
_STRANGE_SCATTER = 2.5
_IMPOSSIBLE_SCATTER = 5.0
# A drawdown of this contrast ratio counts as hiding (ISO 2814).
_HIDING = 0.98


def delta_e_of_films(films: Sequence[Drawdown], result: JointFit) -> Floats:
    """CIEDE2000 (D,) of the drawdowns as fitted from the drawdowns as read."""
    R = np.stack([f.R for f in films])
    return delta_e_2000(lab_from_reflectance(R), lab_from_reflectance(R + result.bands.residuals))


def misfits(films: Sequence[Drawdown], arrays: Films, skin: Surface, delta: Floats) -> list[str]:
    """Name the drawdown without which the others agree; refuse the set when it is far off."""
    worst = float(delta.max())
    if worst < _FLAGGED:
        return []
    if len(films) < 3:
        reason = (
            f"the two drawdowns don't belong together (CIEDE2000 {worst:.1f} from the best fit): "
            "another paint's file, wrong parts, or a masstone that isn't opaque"
        )
        if worst > _REFUSED:
            raise UserError("These drawdowns can't be right:", problems=[reason])
        return [reason]
    left: list[tuple[float, int]] = []
    for out in range(len(films)):
        keep = np.arange(len(films)) != out
        rest = Films(
            arrays.R[keep],
            arrays.share[keep],
            arrays.K_white,
            arrays.S_white,
            np.broadcast_to(arrays.X, arrays.share.shape)[keep],
            arrays.ground[keep],
            arrays.sigma[keep],
        )
        left.append((float(fit_bands(rest, skin).objective.sum()), out))
    culprit = films[min(left)[1]]
    paler = (
        " It may not be opaque, so that the card shows through."
        if culprit.role.kind == MASSTONE and culprit.role.ground == "opaque"
        else " Its parts may be wrong."
    )
    reason = (
        f"{culprit.sample} doesn't agree with the others (CIEDE2000 {worst:.1f}): is it another "
        f"paint's file?{paler}"
    )
    if worst > _REFUSED:
        raise UserError("These drawdowns can't be right:", problems=[reason])
    return [reason]


def implausible(result: JointFit, white: Optics, good: NDArray[np.bool_]) -> list[str]:
    """Two drawdowns of two paints can be met exactly, but only by a paint that isn't one."""
    times = np.where(good, result.bands.S / white.S, 0.0)
    band = int(np.argmax(times))
    if (times > _STRANGE_SCATTER).sum() < 3:
        return []
    reason = (
        f"the paint would scatter {times[band]:.0f} times as much as the white at "
        f"{WAVELENGTHS_NM[band]:g} nm, which none does: the drawdowns don't belong together, or "
        "the parts are wrong"
    )
    if (times > _IMPOSSIBLE_SCATTER).sum() >= 3:
        raise UserError("These drawdowns can't be right:", problems=[reason])
    return [reason]


def not_learned(films: Sequence[Drawdown], result: JointFit) -> list[str]:
    """What these drawdowns can't tell, however well they fit."""
    out: list[str] = []
    tints = [f for f in films if f.role.kind == TINT]
    if not tints:
        out.append(
            "tinting strength: nothing was mixed with white, so K and S stand on the thickness "
            "told or assumed"
        )
    if len(films) == 2:
        out.append(
            "whether the parts, or the film, were as stated: two drawdowns are met whatever they "
            "say; a third would check them"
        )
    if all(f.role.ground == "opaque" for f in films):
        hides = float(contrast_ratio(result.bands.K, result.bands.S))
        glaze = (
            f"; at a usual drawdown's thickness this paint hides little (contrast ratio "
            f"{hides:.2f}), so read it over black and over white to be sure"
            if hides < _HIDING
            else ""
        )
        out.append(
            "whether the masstone was opaque: a card that shows through passes for scattering"
            + glaze
        )
    if not any(f.role.kind == MASSTONE for f in films):
        out.append("the masstone, which is predicted from the tints alone")
    blind = result.bands.S < 1e-3
    if blind.sum() > 3:
        nm = WAVELENGTHS_NM[blind]
        out.append(
            f"scattering where the paint absorbs nearly all light ({nm[0]:g}-{nm[-1]:g} nm in part)"
        )
    return out
