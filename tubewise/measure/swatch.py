"""A swatch's colour alone: the pigment's model scaled to it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import N_BANDS, WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.errors import UserError
from tubewise.measure.measured import FilmFit, MeasuredOptics
from tubewise.measure.references import MODEL_SCATTER_SPREAD, Optics
from tubewise.measure.sample_names import MASSTONE
from tubewise.measure.spectra import Conditions
from tubewise.optics.film import opaque_reflectance
from tubewise.optics.surface import GLOSS, measured_from_internal

# CIEDE2000 from the swatch at which the result is flagged, and refused.
_FLAGGED = 2.0
_TOO_FAR = 6.0
# How far a swatch may bend a model, in ln K: all of it, its tilt and its bow (common practice, no
# source); the same trust that `tubewise.advice` puts in pigments.
_BEND = np.array([0.30, 0.20, 0.15])
_SWATCH_ERROR = 1.0


def learn_from_swatch(
    lab: ArrayLike, model: Optics, *, tube: str = "", conditions: Conditions | None = None
) -> MeasuredOptics:
    """A pigment's model scaled to the colour of its opaque swatch, CIELAB D65/2°, (3,).

    ln K is raised, tilted and bowed over the spectrum as little as meets the swatch; S stays the
    model's. Raises UserError when the model can't come within CIEDE2000 6 of the swatch.
    """
    target = np.asarray(lab, dtype=np.float64)
    u = (WAVELENGTHS_NM - 555.0) / 175.0
    basis = np.stack([np.ones_like(u), u, u * u - 1.0 / 3.0])

    def residual(theta: Floats) -> Floats:
        R = measured_from_internal(opaque_reflectance(model.K * np.exp(theta @ basis), model.S))
        return np.concatenate([(lab_from_reflectance(R) - target) / _SWATCH_ERROR, theta / _BEND])

    from scipy.optimize import least_squares

    found = least_squares(residual, np.zeros(3))
    K = model.K * np.exp(found.x @ basis)
    R = measured_from_internal(opaque_reflectance(K, model.S))
    delta = float(delta_e_2000(lab_from_reflectance(R), target))
    if delta > _TOO_FAR:
        raise UserError(
            f"The swatch is CIEDE2000 {delta:.0f} from anything {model.name} can be; its pigments "
            "or its swatch are wrong."
        )
    J = np.asarray(found.jac)
    covariance = np.linalg.inv(J.T @ J)
    root = np.linalg.cholesky(covariance)
    shared = np.zeros((4, N_BANDS, 2))
    shared[:3, :, 0] = root.T @ basis
    shared[3] = MODEL_SCATTER_SPREAD
    return MeasuredOptics(
        tube,
        "swatch",
        K,
        np.array(model.S),
        np.broadcast_to(np.diag([0.04, 0.04]), (N_BANDS, 2, 2)).copy(),
        shared,
        np.zeros(N_BANDS),
        (FilmFit("swatch", MASSTONE, "opaque", 1.0, delta, 0.0, 1.0, None),),
        (GLOSS.k1, GLOSS.k2),
        conditions or Conditions(),
        (),
        (f"the spectrum's shape and the scattering of {model.name}",),
        (
            "the spectrum itself, tinting strength and hiding: a colour is three numbers; a "
            "masstone's spectrum and a tint would tell",
        ),
        (f"the swatch is met only to CIEDE2000 {delta:.1f}",) if delta > _FLAGGED else (),
    )
