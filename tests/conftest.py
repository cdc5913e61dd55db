"""What tests of several rooms share."""

from __future__ import annotations

import pytest
from hypothesis import settings

from tubewise.paints.shelf import Shelf

# A test judges answers, not how busy the machine is.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")


@pytest.fixture(scope="session")
def shelf() -> Shelf:
    """A shelf without tubes: pigments only."""
    return Shelf()


@pytest.fixture(autouse=True)
def answers_are_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a busy machine, or before the search is compiled, an answer may take a minute."""
    monkeypatch.setattr("tubewise.limits.WAIT_SECONDS", 600.0)
