"""Many targets against one box."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tubewise.search.batch import search_many
from tubewise.search.recipes import search


def test_many_targets_come_back_in_order(problem):
    ask = problem(8, 20, [50, 0, 0], max_paints=3)
    targets = [[30 + 8 * i, 10, 5] for i in range(6)]
    done = []
    results = list(search_many(ask, targets, progress=lambda: done.append(1)))
    assert len(done) == 6
    for target, result in zip(targets, results, strict=True):
        alone = search(replace(ask, target_lab=target))
        assert result.best.value == pytest.approx(alone.best.value, abs=0.01)
