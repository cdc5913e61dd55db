"""Makes data/weights.csv from the CIE tables in colour-science; run by hand when they change.

    python -m tools.weights

The weights are those of ASTM E2022 at 10 nm over 360-780 nm, with the weights of 360-370 and
740-780 nm added to the outermost bands of our grid, as ASTM E308 says for shorter measurements.
The CIE publishes FL2 and FL11 from 380 nm only; below that their first value is held, as
colour-science does (the effect on XYZ is below 0.01).
"""

from __future__ import annotations

import csv
from importlib.metadata import version
from pathlib import Path

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lights import LIGHTS, OBSERVERS

DATA = Path(__file__).parents[1] / "tubewise" / "colour" / "data"
_CMFS = {
    "2": "CIE 1931 2 Degree Standard Observer",
    "10": "CIE 1964 10 Degree Standard Observer",
}


def make_weights(light: str, observer: str) -> Floats:
    """ASTM E308 weights of a light and observer on our grid, shape (36, 3)."""
    import colour
    from colour.colorimetry import (
        adjust_tristimulus_weighting_factors_ASTME308,
        tristimulus_weighting_factors_ASTME2022,
    )

    practice = colour.SpectralShape(360, 780, 1)
    cmfs = colour.MSDS_CMFS[_CMFS[observer]].copy().align(practice)
    illuminant = colour.SDS_ILLUMINANTS[light].copy().align(practice)
    wide = tristimulus_weighting_factors_ASTME2022(
        cmfs, illuminant, colour.SpectralShape(360, 780, 10)
    )
    folded = adjust_tristimulus_weighting_factors_ASTME308(
        wide, colour.SpectralShape(360, 780, 10), colour.SpectralShape(380, 730, 10)
    )
    return np.asarray(folded, dtype=np.float64)


def main() -> None:
    """Writes the weights of every light and observer, one row per band."""
    target = DATA / "weights.csv"
    source = "ASTM E308/E2022 10 nm weights from CIE 015:2018 tables"
    with target.open("w", encoding="utf-8", newline="") as out:
        out.write(
            f"# Made by tools.weights with colour-science "
            f"{version('colour-science')}; the weights of 360-370 and 740-780 nm are folded into "
            "380 and 730 nm.\n"
        )
        rows = csv.writer(out, lineterminator="\n")
        rows.writerow(("light", "observer", "wavelength_nm", "x", "y", "z", "source"))
        for light in LIGHTS:
            for observer in OBSERVERS:
                for nm, xyz in zip(WAVELENGTHS_NM, make_weights(light, observer), strict=True):
                    rows.writerow((light, observer, int(nm), *map("{:.12g}".format, xyz), source))


if __name__ == "__main__":
    main()
