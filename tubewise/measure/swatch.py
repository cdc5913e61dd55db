"""A swatch's colour alone: the pigment's model scaled to it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import N_BANDS
from tubewise.errors import UserError
from tubewise.measure.measured import FilmFit, MeasuredOptics
from tubewise.measure.references import MODEL_SCATTER_SPREAD, Optics
from tubewise.measure.sample_names import MASSTONE
from tubewise.measure.spectra import Conditions
from tubewise.optics.surface import GLOSS
from tubewise.optics.swatch import USUAL_GEOMETRY, Blend, Swatch, best_match

# CIEDE2000 from the swatch at which the result is flagged, and refused.
_FLAGGED = 2.0
_TOO_FAR = 6.0


def learn_from_swatch(
    lab: ArrayLike,
    model: Optics,
    *,
    tube: str = "",
    geometry: str = USUAL_GEOMETRY,
    conditions: Conditions | None = None,
) -> MeasuredOptics:
    """A pigment's model scaled to the colour of its opaque swatch, CIELAB D65/2°, (3,).

    ln K is raised, tilted and bowed over the spectrum as little as meets the swatch, as a tube's
    own swatch bends its pigments; S stays the model's. `geometry` says whether the mirror
    reflection was `included` or `excluded`. Raises UserError when the model can't come within
    CIEDE2000 6 of the swatch.
    """
    swatch = Swatch(lab=np.asarray(lab, dtype=np.float64), geometry=geometry)
    blend = Blend(K=model.K[None, None], S=model.S[None, None], base=np.zeros(1), swatch=swatch)
    theta = best_match(blend)
    K = blend.mixture(theta)[1][0, 0]
    delta = float(delta_e_2000(blend.shown(theta)[0, 0], swatch.lab))
    if delta > _TOO_FAR:
        raise UserError(
            f"The swatch is CIEDE2000 {delta:.0f} from anything {model.name} can be; its pigments "
            "or its swatch are wrong."
        )
    shared = np.zeros((4, N_BANDS, 2))
    shared[:3, :, 0] = blend.bend_moves(theta)
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
        conditions or Conditions(specular=geometry),
        (),
        (
            f"the spectrum's shape and the scattering of {model.name}",
            f"a swatch read with the mirror reflection {geometry}",
        ),
        (
            "the spectrum itself, tinting strength and hiding: a colour is three numbers; a "
            "masstone's spectrum and a tint would tell",
        ),
        (f"the swatch is met only to CIEDE2000 {delta:.1f}",) if delta > _FLAGGED else (),
    )
