"""The one wavelength grid on which every spectrum in this package stands."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

N_BANDS: Final = 36

WAVELENGTHS_NM: Final[NDArray[np.float64]] = np.arange(380.0, 731.0, 10.0)
"""Band centres, shape (36,), nanometres: 380, 390 ... 730. Read-only."""

WAVELENGTHS_NM.flags.writeable = False
