"""The comparison card's paints and mixtures."""

from __future__ import annotations

import pytest

from tubewise.advice.cards.comparison import comparison
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf


def test_a_comparison_takes_two_to_four_tubes_each_once() -> None:
    shelf = Shelf()
    with pytest.raises(UserError, match="2 to 4"):
        comparison(("PB29",), shelf)
    with pytest.raises(UserError, match="2 to 4"):
        comparison(("PB29", "PB28", "PB27", "PB15:3", "PB15:1"), shelf)
    with pytest.raises(UserError, match="once"):
        comparison(("PB29", "PB29"), shelf)


def test_every_pair_is_mixed_with_the_same_partners_and_none_with_itself() -> None:
    card = comparison(("PB29", "PB28", "PY74"), Shelf())
    first, second = ([d.situation for d in pair.mixes] for pair in card.compared)
    assert first == second
    assert not any("PB29" in s or "PY74" in s for s in first)
