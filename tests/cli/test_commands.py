"""The commands as a painter types them, and the JSON keys that others rely on."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run


def answer(run: Run, *words: str, status: int = 0) -> Any:
    ran = run(*words, "--json")
    assert ran.status == status, ran.err
    return json.loads(ran.out)


def test_label_reads_codes_and_warns(run: Run) -> None:
    got = answer(run, "label", "PV23 / PB15", "--name", "Dioxazine Violet")
    assert [p["code"] for p in got["pigments"]] == ["PV23", "PB15"]
    assert {"code", "form", "constitution", "name"} <= set(got["pigments"][0])
    warning = next(w for w in got["warnings"] if w["kind"] == "needs-suffix")
    start, end = warning["span"]
    assert "PV23 / PB15"[start:end] == "PB15"


def test_label_in_words_shows_cautions(run: Run) -> None:
    ran = run("label", "PR108")
    assert "PR108" in ran.out
    assert "cadmium" in ran.out.lower() and "safety data sheet" in ran.out


def test_mix_gives_colour_spectrum_and_uncertainty(run: Run) -> None:
    got = answer(run, "mix", "PV19/gamma=1", "PB29=1", "PW6=4")
    assert len(got["colour"]["lab"]) == 3 and got["colour"]["hex"].startswith("#")
    assert len(got["spectrum"]["reflectance"]) == 36
    assert got["uncertainty"]["delta_e00_95"] > 0
    assert got["basis"] == "measured (published)"


def test_mix_in_words_works_without_colour(run: Run) -> None:
    ran = run("mix", "PB29", "--film", "thin")
    assert ran.status == 0
    assert "measured (published)" in " ".join(ran.out.split()) and "\x1b[" not in ran.out


def test_compare_with_partners(run: Run) -> None:
    got = answer(run, "compare", "PV19/gamma", "PR209", "--with", "PB29", "--with", "PB15:3")
    assert [m["with"] for m in got["mixes"]] == ["PB29", "PB15:3"]
    ran = run("compare", "PV19/gamma", "PR209", "--with", "PB29")
    assert "different pigments" in ran.out and "alone" in ran.out


@pytest.mark.slow
def test_standin_finds_the_same_pigment_under_another_name(run: Run, files: Path) -> None:
    tube = "oakfen-fenland-acrylic-dioxazine-violet-60ml"
    got = answer(run, "standin", tube, "--from", str(files / "catalogue.csv"))
    first = got["standins"][0]
    assert first["identity"] == "same pigments"
    assert "mauve" in first["tube"]
    assert {"tube", "recipe", "identity", "worst_delta_e00", "words"} <= set(first)
    ran = run("standin", "Dioxazine Violet", "--from", str(files / "catalogue.csv"))
    assert "Mauve" in ran.out and "the same to the eye" in ran.out
    ran = run("standin", "Dioxazine Violet", "--from", str(files / "catalogue.csv"), "--all")
    assert "parts do the work of 1" in ran.out


def test_recipe_for_a_green(run: Run, files: Path) -> None:
    got = answer(
        run,
        "recipe",
        "lab:75,-35,50",
        "--from",
        str(files / "catalogue.csv"),
        "--max-paints",
        "3",
        "--max-parts",
        "12",
    )
    best = got["recipes"][0]
    assert best["delta_e00"] < 5
    assert sum(p["parts"] for p in best["parts"]) <= 12
    assert {"parts", "colour", "delta_e00", "metamerism", "lightfastness", "cautions"} <= set(best)
    assert {"subsets", "proved_best"} <= set(got["search"])
    assert "A" in best["metamerism"]


@pytest.mark.slow
def test_recipe_takes_munsell_and_screen_colours(run: Run, files: Path) -> None:
    for target in ("munsell:5G 6/6", "#7a8f5a"):
        ran = run("recipe", target, "--from", str(files / "catalogue.csv"), "--max-paints", "2")
        assert ran.status == 0, ran.err
        assert "part" in ran.out


def test_check_says_who_is_ready_and_exits_1_when_not_all_are(run: Run, files: Path) -> None:
    words = (
        "check",
        str(files / "list.csv"),
        "--boxes",
        str(files / "boxes.csv"),
        "--catalogue",
        str(files / "catalogue.csv"),
    )
    got = answer(run, *words, status=1)
    one, two = got["seats"]
    assert [s["verdict"] for s in one["slots"]] == ["right pigment"] * 3
    verdicts = {s["slot"]: s["verdict"] for s in two["slots"]}
    assert verdicts == {
        "White": "missing",
        "Rose": "wrong pigment behind the name",
        "Ultramarine": "missing",
    }
    assert two["slots"][0]["buy"]["price"] == 6.5
    assert {"slot", "verdict", "tube", "reasons", "recipe", "buy"} <= set(two["slots"][0])
    ran = run(*words, "--html", str(files / "report.html"))
    assert ran.status == 1
    assert "ready 1; not ready 2" in ran.out
    page = (files / "report.html").read_text(encoding="utf-8")
    assert "wrong pigment behind the name" in page and "http" not in page


def test_check_exits_0_when_every_seat_is_ready(run: Run, files: Path) -> None:
    rows = (files / "boxes.csv").read_text().splitlines()[:-1]
    (files / "one.csv").write_text("\n".join(rows))
    ran = run(
        "check",
        str(files / "list.csv"),
        "--boxes",
        str(files / "one.csv"),
        "--catalogue",
        str(files / "catalogue.csv"),
    )
    assert ran.status == 0
    assert "list: ready 1" in ran.out


def test_names_lists_the_three_kinds(run: Run, files: Path) -> None:
    got = answer(run, "names", "--catalogue", str(files / "catalogue.csv"))
    assert [n["name"] for n in got["same_name"]] == ["Permanent Rose"]
    assert ["PV23"] in [n["pigments"] for n in got["same_pigments"]]
    assert any("Cadmium Red Hue" in h["tube"]["title"] for h in got["hue_names"])
    assert "Permanent Rose" in run("names", "--catalogue", str(files / "catalogue.csv")).out


def test_import_then_find_then_compare_by_id(run: Run, files: Path) -> None:
    assert "10 added" in run("import", str(files / "catalogue.csv")).out
    assert "10 unchanged" in run("import", str(files / "catalogue.csv")).out
    got = answer(run, "find", "permanant roze")
    assert all("rose" in tube["id"] for tube in got["tubes"][:2])
    assert len(answer(run, "find", "--code", "PV23")["tubes"]) == 2
    ids = [tube["id"] for tube in got["tubes"][:2]]
    assert answer(run, "compare", *ids)["identity"] == "different pigments"


def test_help_is_there_for_everyone(run: Run) -> None:
    ran = run("--help")
    for command in ("label", "mix", "compare", "standin", "recipe", "check", "names", "demo"):
        assert command in ran.out


def test_the_help_of_a_command_explains_its_arguments(run: Run) -> None:
    out = run("compare", "--help").out
    assert "A pigment or a tube's id." in out and "\\" not in out
    assert "[required]" in out


def test_a_first_search_says_what_it_waits_for(
    run: Run, files: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        "tubewise.search.compiled.ready", lambda report: report("Compiling, about 20 seconds.")
    )
    ran = run("recipe", "PB29", "--from", str(files / "catalogue.csv"), "--json")
    assert ran.err == "Compiling, about 20 seconds.\n"
    assert json.loads(ran.out)["recipes"]
