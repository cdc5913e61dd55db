"""`tubewise measure` from files to a measurement kept with its tube."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import typer
from click.testing import Result
from typer.testing import CliRunner

from tests.measure.synthetic_drawdowns import Known, film, paint, white
from tubewise.cli.measure import measure
from tubewise.cli.measure_question import MeasureQuestion
from tubewise.cli.question import answering
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.errors import UserError
from tubewise.store.store import Store
from tubewise.tubes.tube import Tube

TUBE = "marlow-studio-oil-rose-37ml"
APP = typer.Typer()
APP.command()(answering(MeasureQuestion, measure))


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TUBEWISE_DB", f"sqlite:///{tmp_path / 'store.sqlite'}")


def run(*arguments: object) -> Result:
    result = CliRunner().invoke(APP, [str(a) for a in arguments])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def table(path: Path, rows: list[tuple[str, np.ndarray]]) -> Path:
    lines = ["sample;" + ";".join(f"{nm:g} nm" for nm in WAVELENGTHS_NM)]
    lines += [n + ";" + ";".join(f"{100 * v:.3f}".replace(".", ",") for v in R) for n, R in rows]
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


@pytest.fixture
def p() -> Known:
    return paint(np.random.default_rng(4))


@pytest.fixture
def readings(tmp_path: Path, p: Known) -> Path:
    rows = [("masstone", film(p)), ("tint 1:2", film(p, 2)), ("tint 1:8", film(p, 8))]
    return table(tmp_path / "rose.csv", [*rows, ("white", film(white()))])


def test_json_has_the_fit_per_band_and_per_drawdown(readings: Path) -> None:
    answer = json.loads(run(readings, "--specular", "included", "--json").stdout)
    assert answer["level"] == "two constants" and answer["version"] is None
    assert len(answer["bands"]) == 36
    assert set(answer["bands"][0]) == {"nm", "rms", "K", "S", "sigma_ln_K", "sigma_ln_S"}
    assert [d["sample"] for d in answer["drawdowns"]] == ["masstone", "tint 1:2", "tint 1:8"]
    assert answer["delta_e00"]["worst"] < 0.5
    assert answer["conditions"]["specular"] == "included"


def test_a_measurement_is_kept_listed_withdrawn_and_used_again(
    readings: Path, tmp_path: Path
) -> None:
    told = run(readings, "--specular", "included", "--tube", TUBE).stdout
    assert "kept as version 1" in told and "assumed:" in told and "not learned:" in told
    assert "version 1" in run("--tube", TUBE, "--history").stdout
    out = tmp_path / "out.json"
    assert "written to" in run("--tube", TUBE, "--export", out).stdout
    assert json.loads(out.read_text())["tube"] == TUBE
    assert "(withdrawn)" in run("--tube", TUBE, "--withdraw").stdout
    listed = json.loads(run("--tube", TUBE, "--history", "--json").stdout)["measurements"]
    assert [v["withdrawn"] for v in listed] == [True]
    assert "withdrawn" not in run("--tube", TUBE, "--reinstate", "--number", 1).stdout
    # What was exported can be taken in again, for this tube or another.
    assert "version 1 of other" in run(out, "--tube", "other").stdout
    assert "never measured" in run("--tube", "third", "--history").stdout


def test_a_dry_run_keeps_nothing_but_can_be_written(readings: Path, tmp_path: Path) -> None:
    out = tmp_path / "m.json"
    told = run(readings, "--specular", "included", "--tube", TUBE, "--dry-run", "--export", out)
    assert "not kept" in told.stdout and out.exists()
    with Store() as store:
        assert store.measurements(TUBE) == []


def test_a_measured_white_stands_for_the_model(tmp_path: Path, readings: Path) -> None:
    out = tmp_path / "white.json"
    run(readings, "--specular", "included", "--tube", "w", "--export", out)
    for term in ("w", out):
        told = run(readings, "--specular", "included", "--white", term).stdout
        assert "the measured white w" in told
    with pytest.raises(UserError, match="no measurement in use"):
        run(readings, "--specular", "included", "--white", "nobody")


def test_the_tubes_own_pigment_is_leant_on(tmp_path: Path, p: Known) -> None:
    with Store() as store:
        store.import_catalogue([Tube(id=TUBE, name="Rose", label="PV19")])
    path = table(tmp_path / "m.csv", [("masstone", film(p))])
    told = run(path, "--specular", "included", "--tube", TUBE).stdout
    assert "the scattering of modelled PV19" in told
    told = run(path, "--specular", "included", "--pigment", "PB29").stdout
    assert "the scattering of modelled PB29" in told


def test_a_swatch_alone(tmp_path: Path) -> None:
    told = run("--swatch", "24,22,-35", "--pigment", "PB29").stdout
    assert "swatch from 1 drawdown" in told


def test_the_template_is_printed() -> None:
    assert run("--template").stdout.startswith("sample,kind,parts,white_parts,by,ground")


def test_a_manifest_names_the_samples(tmp_path: Path, p: Known) -> None:
    path = table(tmp_path / "m.csv", [("A1", film(p)), ("A2", film(p, 4))])
    names = tmp_path / "drawdowns.csv"
    names.write_text("sample,kind,parts,white_parts\nA1,masstone,,\nA2,tint,1,4\n")
    told = run(path, "--specular", "included", "--manifest", names).stdout
    assert "two constants from 2 drawdowns" in told


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "Name the files"),
        (["--history"], "Say which tube"),
        (["--history", "--withdraw", "--tube", "t"], "ask one thing"),
        (["--reinstate", "--tube", "t"], "--number N"),
        (["nowhere.csv"], "no such file"),
        (["nowhere.json"], "can't be read"),
        (["--swatch", "24,22", "--pigment", "PB29"], "three numbers"),
        (["--swatch", "24,22,1"], "needs a pigment's model"),
        (["x.csv", "--swatch", "24,22,1", "--pigment", "PB29"], "not both"),
        (["--tube", "t", "--export", "out.json"], "no measurement in use"),
    ],
)
def test_bad_input_is_told(arguments: list[str], words: str) -> None:
    with pytest.raises(UserError, match=words):
        run(*arguments)


def test_a_place_that_cannot_be_written(readings: Path, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file where a folder is needed")
    with pytest.raises(UserError, match="cannot be written"):
        run(readings, "--specular", "included", "--export", tmp_path / "taken" / "m.json")
