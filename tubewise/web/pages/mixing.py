"""Mixing: which tubes of a box, in what parts, make a colour; and a bench to try parts by hand."""

from __future__ import annotations

import re
import tempfile
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated

import numpy as np
from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import Response

from tubewise.advice.medium import media_of
from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.results import Recipes
from tubewise.advice.recipes.target import Target, of_paint, of_tube, read_spectrum, target
from tubewise.advice.recipes.wishes import ALL_LIGHTS, Wishes
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.lights import LIGHTS
from tubewise.colour.words import describe
from tubewise.errors import UserError
from tubewise.paints.mixing import Mixture, mix
from tubewise.paints.paint import Paint
from tubewise.tubes.tube import Tube
from tubewise.web.holdings import Holdings
from tubewise.web.render import counter_of, page

router = APIRouter()
Text = Annotated[str, Query(max_length=300)]
# A measured spectrum stands in the address as it was pasted.
Long = Annotated[str, Query(max_length=4000)]
Several = Annotated[list[str], Query(default_factory=list, max_length=20)]

MOST_ON_BENCH = 8
SPECTRUM_OF = "spectrum:"
MOST_PARTS = 1000.0


@dataclass(frozen=True, slots=True)
class Source:
    """Tubes to mix from, as an address names them."""

    key: str
    words: str
    tubes: tuple[Tube, ...]


def sources(held: Holdings) -> list[Source]:
    """Every box, and what the shop has in stock by medium."""
    found = [
        Source(f"{name}\n{box.seat}", f"seat {box.seat}" + (f", {name}" if name else ""), box.tubes)
        for name, boxes in held.boxes.items()
        for box in boxes
    ]
    for medium in held.media:
        for grade in ("artist", "student"):
            tubes = tuple(
                t for t in held.tubes if t.medium == medium and t.grade == grade and t.stock != 0
            )
            if tubes:
                found.append(
                    Source(f"stock\n{medium}\n{grade}", f"in stock: {grade} {medium}", tubes)
                )
    return found


def source_of(held: Holdings, key: str) -> Source:
    """The source an address means; the first where it means none. Raises UserError without any."""
    every = held.remember(("sources",), lambda: sources(held))
    plain = key.replace("\r\n", "\n")
    found = next((s for s in every if s.key == plain), None)
    if found is None and plain:
        raise UserError("There is no such box here; choose one from the list.")
    if found is None and not every:
        raise UserError("There is no box and no tube in stock to mix from yet.")
    return found or every[0]


def aim(held: Holdings, text: str) -> Target:
    """What a typed target means. Unlike the command line, no file is ever opened for it."""
    text = text.strip()
    if text.startswith(("lab:", "#", "munsell:")):
        return held.remember(("target", text), lambda: target(text, held.shelf))
    if text.startswith(SPECTRUM_OF):
        return held.remember(("target", text), lambda: _of_spectrum(text))
    tube = held.shelf.tubes.get(text)
    if tube is not None:
        return held.remember(("target", text), lambda: of_tube(tube, held.shelf))
    return of_paint(held.shelf.term(text))


def _of_spectrum(text: str) -> Target:
    """A pasted spectrum, two columns of nanometres and reflectance, as a target."""
    with tempfile.TemporaryDirectory(prefix="tubewise-") as folder:
        path = Path(folder) / "spectrum.csv"
        rows = text.removeprefix(SPECTRUM_OF).split()
        path.write_text("\n".join(rows), encoding="utf-8")
        try:
            R = read_spectrum(path)
        except UserError as error:
            where = error.where.replace(str(path), path.name).replace(path.name, "the spectrum")
            raise UserError(error.message, where=where) from None
    return Target("the measured spectrum", lab_from_reflectance(R), R, True)


def _lines_of(text: str) -> str:
    """The spectrum of a target as it was pasted, empty for other targets."""
    bare = text.removeprefix(SPECTRUM_OF)
    return "" if bare == text else "\n".join(bare.split())


def _one_line(spectrum: str) -> str:
    """A pasted spectrum as `400,0.12 410,0.13`, so that it fits into a field and an address."""
    lines = [re.split(r"[\s,;]+", line.strip())[:2] for line in spectrum.splitlines()]
    return SPECTRUM_OF + " ".join(",".join(cells) for cells in lines if cells != [""])


@dataclass(frozen=True, slots=True)
class Asking:
    """A recipe asked for: the target as typed, the box's key, the limits and the wishes."""

    text: str
    box: str
    medium: str
    max_paints: int
    max_parts: int
    wishes: Wishes


def asking(
    without: Several,
    target: Long = "",
    spectrum: Long = "",
    picked: Text = "",
    box: Text = "",
    medium: Text = "",
    max_paints: Annotated[int, Query(ge=1, le=5)] = 4,
    max_parts: Annotated[int, Query(ge=2, le=40)] = 16,
    light: Annotated[str, Query(max_length=20)] = "D65",
    fewer: bool = False,
    cheaper: bool = False,
    lasting: bool = False,
    uncautioned: bool = False,
    single: bool = False,
) -> Asking:
    """What an address asks for."""
    return Asking(
        _one_line(spectrum) if spectrum.strip() else target.strip() or picked.strip(),
        box,
        medium.strip(),
        max_paints,
        max_parts,
        Wishes(
            light=light,
            fewer=fewer,
            cheaper=cheaper,
            lasting=lasting,
            uncautioned=uncautioned,
            single=single,
            must_not=tuple(w for w in without if w),
        ),
    )


Wanted = Annotated[Asking, Depends(asking)]


def recipes_for(held: Holdings, asked: Asking) -> Recipes:
    """The recipes that are asked for, worked out once."""
    source = source_of(held, asked.box)
    aimed = aim(held, asked.text)

    at_hand = AtHand(
        tubes=source.tubes,
        shelf=held.shelf,
        medium=asked.medium,
        shop=() if source.key.startswith("stock\n") else held.tubes,
    )

    def work() -> Recipes:
        return recipes_from(aimed, at_hand, asked.max_paints, asked.max_parts, asked.wishes)

    return held.remember_heavy(("recipe", replace(asked, box=source.key)), work)


@router.get("/mixing")
def mixing(request: Request, asked: Wanted) -> Response:
    """Recipes for a target from a box."""
    held = counter_of(request).holdings()
    every = held.remember(("sources",), lambda: sources(held))
    answer: Recipes | None = None
    fault = None
    chosen = source_of(held, asked.box) if every else None
    if asked.text and every:
        try:
            answer = recipes_for(held, asked)
        except UserError as error:
            fault = error
    query = request.scope.get("tubewise.query", request.url.query)
    return page(
        request,
        "mixing.html",
        here="mixing",
        revision=held.revision,
        held=held,
        asked=asked,
        lights=(*LIGHTS, ALL_LIGHTS),
        target="" if asked.text.startswith(SPECTRUM_OF) else asked.text,
        spectrum=_lines_of(asked.text),
        sources=every,
        box=chosen,
        media=media_of(chosen.tubes) if chosen else (),
        answer=answer,
        fault=fault,
        wanted=held.tube(asked.text) if asked.text else None,
        strip_of=lambda tube_id: _strip(held, tube_id),
        bench_parts=lambda r: [("p", f"{part.tube}={part.parts:g}") for part in r.parts],
        query=query,
    )


def _strip(held: Holdings, tube_id: str) -> object:
    tube = held.tube(tube_id)
    return held.seen(tube).strip if tube else held.strip_of(held.shelf.term(tube_id))


def parts_of(asked: list[str]) -> list[tuple[str, float]]:
    """`TERM=PARTS` of an address. Raises UserError for anything else."""
    found = []
    for text in asked:
        term, _, number = text.rpartition("=")
        try:
            parts = float(number.replace(",", "."))
        except ValueError:
            parts = -1.0
        if not term or not 0.0 <= parts <= MOST_PARTS:
            raise UserError(
                f"Write a paint and its parts, from 0 to {MOST_PARTS:g}, as PV19/gamma=2.",
                where=f"“{text}”",
            )
        found.append((term.strip(), parts))
    if len(found) > MOST_ON_BENCH:
        raise UserError(f"At most {MOST_ON_BENCH} paints fit on the bench.")
    return found


@dataclass(frozen=True, slots=True)
class Bench:
    """A mixture by hand, beside its target where there is one."""

    mixture: Mixture | None
    target: Target | None
    delta_e00: float | None
    words: str


def bench_of(held: Holdings, text: str, parts: list[tuple[str, float]]) -> Bench:
    """The mixture of parts by hand, and how far from the target it is."""
    used: list[tuple[Paint, float]] = [(held.shelf.term(t), n) for t, n in parts if n > 0]
    mixture = mix([p for p, _ in used], [n for _, n in used]) if used else None
    aimed = aim(held, text) if text.strip() else None
    if mixture is None or aimed is None:
        return Bench(mixture, aimed, None, mixture.colour.name if mixture else "nothing mixed yet")
    lab = np.array(mixture.colour.lab)
    return Bench(
        mixture,
        aimed,
        round(float(delta_e_2000(aimed.lab, lab)), 2),
        describe(aimed.lab, lab),
    )


@router.get("/mixing/bench")
def bench(
    request: Request,
    p: Several,
    term: Several,
    parts: Several,
    target: Long = "",
    more: Text = "",
    box: Text = "",
) -> Response:
    """Parts changed by hand: `p` as TERM=PARTS, or `term` and `parts` as a form sends them."""
    held = counter_of(request).holdings()
    typed = [f"{t}={n or 0}" for t, n in zip(term, parts, strict=False)]
    asked = parts_of([*p, *typed, *([f"{more.strip()}=1"] if more.strip() else [])])
    merged: dict[str, float] = {}
    for name, n in asked:
        merged.setdefault(name, n)
    answer = bench_of(held, target, list(merged.items()))
    source = None
    every = held.remember(("sources",), lambda: sources(held))
    if every and box:
        source = source_of(held, box)
    return page(
        request,
        "bench.html",
        here="mixing",
        revision=held.revision,
        held=held,
        target=target.strip(),
        paints=[(name, held.shelf.term(name), n) for name, n in merged.items()],
        answer=answer,
        box=source,
        most=MOST_PARTS,
        room=len(merged) < MOST_ON_BENCH,
    )
