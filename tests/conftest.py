"""What tests of several rooms share."""

from __future__ import annotations

import pytest

from tubewise.paints.shelf import Shelf


@pytest.fixture(scope="session")
def shelf() -> Shelf:
    """A shelf without tubes: pigments only."""
    return Shelf()
