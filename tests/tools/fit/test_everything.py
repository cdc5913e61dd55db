"""The whole fit: that it can be rerun, and gives what is shipped."""

from __future__ import annotations

import shutil
from pathlib import Path

import numpy as np
import pytest

from tools.fit.__main__ import main
from tools.fit.everything import FILES, fit_all, read_table, tables
from tools.fit.facts import read_facts
from tubewise.pigments.models import DATA, parse_terms
from tubewise.pigments.spread import unpack

FACTS = read_facts()


@pytest.mark.slow
def test_fitting_again_gives_the_shipped_files() -> None:
    refs = ["PV19/gamma", "PR209", "PY35/medium", "PG17", "PBk7"]
    again = tables(fit_all(FACTS, refs), FACTS)
    for name in FILES:
        shipped = read_table(DATA / name)
        for key, row in again[name].items():
            for column, value in row.items():
                assert same(column, value, shipped[key][column]), (key, column)


def same(column: str, ours: str, theirs: str) -> bool:
    """Whether two cells agree: words to the letter, numbers as well as another machine would."""
    if column in ("bands", "edges"):
        return np.allclose(parse_terms(ours), parse_terms(theirs), rtol=5e-3)
    if column in ("floor", "scatter"):
        return np.allclose(
            np.array(ours.split(), float), np.array(theirs.split(), float), rtol=5e-3, atol=1e-6
        )
    if column == "unknown":
        return np.allclose(unpack(ours), unpack(theirs), atol=0.02)
    return ours == theirs


@pytest.mark.slow
def test_an_expert_corrects_a_fact_and_fits_one_pigment_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    facts = tmp_path / "facts.csv"
    text = (DATA / "optics_facts.csv").read_text(encoding="utf-8")
    lines = [
        line.replace(line.split(",")[2], "40 47 197") if line.startswith("PG50/teal,mas") else line
        for line in text.splitlines()
    ]
    facts.write_text("\n".join(lines) + "\n", encoding="utf-8")
    for name in FILES:
        shutil.copy(DATA / name, tmp_path / name)
    assert main(["PG50/teal", "--facts", str(facts), "--out", str(tmp_path)]) == 0
    said = capsys.readouterr().out
    assert "PG50/teal: absorption" in said and "1 pigments and forms: 0 measured" in said
    before, after = read_table(DATA / "models.csv"), read_table(tmp_path / "models.csv")
    assert [ref for ref, _ in before if before[ref, ""] != after[ref, ""]] == ["PG50/teal"]


def test_fitting_a_pigment_without_facts_is_a_clear_error(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["PZ99"]) == 2
    assert "no facts about PZ99" in capsys.readouterr().err
