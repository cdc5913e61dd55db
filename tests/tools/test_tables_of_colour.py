"""The tables of colour/data are what the tools make from colour-science."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools import renotation, weights


@pytest.mark.slow
def test_the_data_files_are_what_their_makers_make(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On one light and every fortieth colour of the renotation, since the makers are slow."""
    from colour.notation.datasets import munsell

    monkeypatch.setattr(weights, "LIGHTS", ("LED-B3",))
    some = munsell.MUNSELL_COLOURS_ALL[::40]
    monkeypatch.setattr(munsell, "MUNSELL_COLOURS_ALL", some)
    for maker, name, rows in (
        (weights, "weights.csv", 72),
        (renotation, "renotation.csv", 120),
    ):
        kept = maker.DATA / name
        monkeypatch.setattr(maker, "DATA", tmp_path)
        maker.main()
        made = (tmp_path / name).read_text("utf-8").splitlines()[2:]
        assert len(made) >= rows
        assert set(made) <= set(kept.read_text("utf-8").splitlines())
