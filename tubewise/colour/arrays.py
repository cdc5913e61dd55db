"""The one kind of array that spectra, colours, K and S are kept in."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
