"""Bad input: one clear message, exit status 2, nothing changed, never a traceback."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.conftest import Run

Breaker = Callable[[Path], None]


def missing(path: Path) -> None:
    path.unlink()


def empty(path: Path) -> None:
    path.write_bytes(b"")


def binary(path: Path) -> None:
    path.write_bytes(bytes(range(256)) * 20)


def folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def huge(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(400_000_000)


def wrongly_encoded(path: Path) -> None:
    path.write_bytes(b"\xff\xfe\x00\xd8" + b"m\x00a\x00" * 3 + b"\x00\xd8x")


def contradictory(path: Path) -> None:
    text = path.read_text(encoding="utf-8").splitlines()
    # The same row again, saying something else in a column after the first.
    cells = text[1].split(",")
    cells[-2 if len(cells) > 4 else 1] = "PB27" if len(cells) < 8 else "-7"
    path.write_text("\n".join([*text, ",".join(cells)]), encoding="utf-8")


def no_header(path: Path) -> None:
    path.write_text("one,two,three\n1,2,3\n", encoding="utf-8")


BREAKERS = [missing, empty, binary, folder, huge, wrongly_encoded, no_header]


def told(ran: object, file: str) -> None:
    status, err = ran.status, ran.err  # type: ignore[attr-defined]
    assert status == 2, (status, err)
    assert "Traceback" not in err and "a fault of ours" not in err
    assert file in err
    assert err.startswith("tubewise: ")


@pytest.mark.slow
@pytest.mark.parametrize("breaker", BREAKERS, ids=lambda b: b.__name__)
@pytest.mark.parametrize("which", ["catalogue.csv", "list.csv", "boxes.csv"])
def test_check_with_a_broken_file(run: Run, files: Path, breaker: Breaker, which: str) -> None:
    breaker(files / which)
    told(
        run(
            "check",
            str(files / "list.csv"),
            "--boxes",
            str(files / "boxes.csv"),
            "--catalogue",
            str(files / "catalogue.csv"),
        ),
        which,
    )


@pytest.mark.slow
@pytest.mark.parametrize("breaker", [*BREAKERS, contradictory], ids=lambda b: b.__name__)
def test_a_broken_catalogue_leaves_the_store_as_it_was(
    run: Run, files: Path, breaker: Breaker
) -> None:
    run("import", str(files / "catalogue.csv"))
    before = run("find", "rose", "--json").out
    breaker(files / "catalogue.csv")
    told(run("import", str(files / "catalogue.csv")), "catalogue.csv")
    assert run("find", "rose", "--json").out == before


@pytest.mark.slow
@pytest.mark.parametrize("breaker", BREAKERS, ids=lambda b: b.__name__)
@pytest.mark.parametrize(
    "words",
    [("names", "--catalogue"), ("standin", "PV23", "--from"), ("recipe", "lab:50,0,0", "--from")],
    ids=lambda w: w[0],
)
def test_other_commands_with_a_broken_catalogue(
    run: Run, files: Path, breaker: Breaker, words: tuple[str, ...]
) -> None:
    breaker(files / "catalogue.csv")
    told(run(*words, str(files / "catalogue.csv")), "catalogue.csv")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("mix", "PV1999=1"), "PV1999"),
        (("mix", "PB29=lots"), "write parts as a number"),
        (("mix", "PB29=-1", "PW6=1"), "above 0"),
        (("mix", "PB29", "--film", "wet"), "opaque or thin"),
        (
            ("recipe", "PB29", "--from", "catalogue.csv", "--film", "wet"),
            "opaque or thin",
        ),
        (("mix", "PB29", "--film", "thin", "--ground", "beige"), "a ground is"),
        (("mix", "PB29", "--light", "candle"), "the lights are"),
        (("mix", "PB29", "--observer", "3"), "the observers are"),
        (("compare", "PV23", "no such paint"), "no such paint"),
        (("find",), "say what to find"),
        (("names",), "no tubes"),
    ],
)
def test_a_wrong_word_is_told(run: Run, words: tuple[str, ...], said: str) -> None:
    ran = run(*words)
    assert ran.status == 2
    assert said in ran.err


@pytest.mark.parametrize(
    "target", ["lab:1,2", "lab:150,0,0", "lab:50,900,0", "munsell:5Q 4/2", "#12", "lab:a,b,c"]
)
def test_a_target_that_is_no_colour(run: Run, files: Path, target: str) -> None:
    ran = run("recipe", target, "--from", str(files / "catalogue.csv"))
    assert ran.status == 2, ran.out
    assert "Traceback" not in ran.err


def test_two_media_do_not_mix(run: Run, files: Path) -> None:
    with (files / "catalogue.csv").open("a") as file:
        file.write("Oakfen,Fenland,artist,oil,Ultramarine,PB29,40,9,EUR,1,\n")
    ran = run("recipe", "lab:50,0,0", "--from", str(files / "catalogue.csv"))
    assert ran.status == 2
    assert "do not mix" in ran.err


def test_a_place_that_cannot_be_written_is_told(run: Run, files: Path) -> None:
    (files / "taken").write_text("a file where a folder is needed")
    ran = run(
        "check",
        str(files / "list.csv"),
        "--boxes",
        str(files / "boxes.csv"),
        "--catalogue",
        str(files / "catalogue.csv"),
        "--html",
        str(files / "taken" / "x.html"),
    )
    assert ran.status == 2
    assert "cannot be written" in ran.err
