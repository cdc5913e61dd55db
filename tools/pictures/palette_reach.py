"""What the best few acrylics reach: `python -m tools.pictures.palette_reach` writes the docs page.

Targets are the 1,269 measured Munsell chips of `munsell_targets`; palettes are single-pigment
acrylics of the demo shop. Each palette is first the widest, then tubes are exchanged as long as
more chips lie in its body; the chips counted are those that the recipe search reaches.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tools.pictures.drawing import INK, picture, text
from tools.pictures.munsell_targets import DOCS, REACHED, chips
from tubewise.advice.palette.film import Film, film_for
from tubewise.advice.palette.offer import Kind, Offer, offer_of
from tubewise.advice.palette.reach import body_of
from tubewise.advice.recipes.wishes import Wishes
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.demo.workshop import folder
from tubewise.paints.shelf import Shelf
from tubewise.search.batch import search_many
from tubewise.search.body import Fineness
from tubewise.search.widest import widest
from tubewise.tubes.catalogue import read_catalogue

SIZES = (3, 4, 6, 8, 12)
COUNTING = Fineness(step=2.0, tolerance=0.8, longest=16.0, share=0.26)
# Exchanges are tried for palettes up to this size; larger ones are left as the widest.
EXCHANGED = 6
# One of each primary and a white, and a warm and a cool of each, as they are commonly named.
# common practice, no source.
THREE = ("PW6", "PY74", "PR254", "PB29")
THREE_COOL = ("PW6", "PY3", "PV19/gamma", "PB15:3")
SIX = ("PW6", "PY3", "PY74", "PV19/gamma", "PR254", "PB15:3", "PB29")


def counted(kinds: Sequence[Kind], film: Film, labs: Floats) -> int:
    """How many colours (n, 3) lie in the body of the kinds."""
    return int(body_of(kinds, film, COUNTING).holds(labs).sum())


def best(offer: Offer, film: Film, labs: Floats, size: int) -> list[Kind]:
    """The kinds whose body holds most of the colours, as far as exchanges find them."""
    paints = [kind.paint for kind in offer.kinds]
    chosen = [offer.kinds[i] for i in widest(film.problem(paints), size, seconds=20.0).rows]
    most = counted(chosen, film, labs)
    if size > EXCHANGED:
        return chosen
    for place in range(size):
        for kind in offer.kinds:
            if kind in chosen:
                continue
            trial = [*chosen[:place], kind, *chosen[place + 1 :]]
            count = counted(trial, film, labs)
            if count > most:
                most, chosen = count, trial
    return chosen


def enlarged(offer: Offer, film: Film, labs: Floats, few: Sequence[Kind], size: int) -> list[Kind]:
    """`few` and, one after the other, the kinds whose body then holds most, up to `size`."""
    chosen = list(few)
    while len(chosen) < size:
        others = [kind for kind in offer.kinds if kind not in chosen]
        chosen.append(max(others, key=lambda kind: counted([*chosen, kind], film, labs)))
    return chosen


def reached(kinds: Sequence[Kind], film: Film, labs: Floats) -> int:
    """How many colours the recipe search brings within `REACHED`, of at most four tubes."""
    paints = [kind.paint for kind in kinds]
    ask = film.problem(paints, min(4, len(paints)), prove=False)
    return sum(float(r.best.delta_e00[0]) <= REACHED for r in search_many(ask, labs))


def named(offer: Offer, refs: Sequence[str]) -> list[Kind]:
    """The kinds of these pigments."""
    return [offer.kinds[offer.rows((ref,))[0]] for ref in refs]


def draw(counts: dict[int, int], total: int) -> str:
    """How many chips are reached by how many tubes, as bars."""
    parts = []
    for i, (size, count) in enumerate(counts.items()):
        y, width = 20.0 + i * 30.0, 420.0 * count / total
        parts.append(f'<rect x="70" y="{y:g}" width="{width:.1f}" height="20" fill="{INK}"/>')
        parts.append(text(0.0, y + 15.0, f"{size} tubes"))
        parts.append(text(76.0 + width, y + 15.0, f"{count} ({count / total:.1%})"))
    title = "Munsell chips reached by the best few single-pigment acrylics"
    return picture(600.0, 30.0 + 30.0 * len(counts), title, parts)


def main() -> None:
    """Write docs/palette-reach.md and its picture."""
    tubes = [t for t in read_catalogue(folder() / "catalogue.csv") if t.medium == "acrylic"]
    shelf = Shelf(tubes)
    offer = offer_of(tubes, shelf, wishes=Wishes(single=True))
    film = film_for("acrylic", shelf)
    labs = np.asarray(lab_from_reflectance(chips()))
    rows: list[str] = []
    counts: dict[int, int] = {}
    kinds: list[Kind] = []
    for size in SIZES:
        # A larger palette that reached less than the smaller one enlarged would not be the best.
        trials = [best(offer, film, labs, size)]
        trials += [enlarged(offer, film, labs, kinds, size)] if kinds else []
        kinds = max(trials, key=lambda trial: reached(trial, film, labs))
        counts[size] = reached(kinds, film, labs)
        names = ", ".join(", ".join(kind.pigments) for kind in kinds)
        rows.append(f"| {size} | {names} | {counts[size]} | {counts[size] / len(labs):.1%} |")
        print(rows[-1], flush=True)
    claims = []
    for words, refs in (
        ("white and one of each: " + ", ".join(THREE[1:]), THREE),
        ("white and one of each, the cool ones: " + ", ".join(THREE_COOL[1:]), THREE_COOL),
        ("white, a warm and a cool of each: " + ", ".join(SIX[1:]), SIX),
    ):
        kinds = named(offer, refs)
        count, volume = reached(kinds, film, labs), body_of(kinds, film).volume
        claims.append((f"| {words} | {len(refs)} | {count} | {volume:,.0f} |", count))
        print(claims[-1][0], flush=True)
    (DOCS / "pictures" / "palette-reach.svg").write_text(draw(counts, len(labs)))
    (DOCS / "palette-reach.md").write_text(page(len(offer.kinds), len(labs), rows, claims, counts))


def page(
    kinds: int, chips: int, rows: list[str], claims: list[tuple[str, int]], counts: dict[int, int]
) -> str:
    """The docs page."""
    three, cool, six = (count for _, count in claims)
    verdict = "confirmed" if six > max(three, cool) else "refuted"
    bars = chr(10).join(rows)
    pairs = chr(10).join(row for row, _ in claims)
    return f"""# What the best few acrylics reach

Targets: {chips:,} painted Munsell chips, *measured*. Palettes: {kinds} single-pigment acrylics
of the demo's invented shop with *modelled* optics. A chip counts as reached when the recipe search
finds a mixture of at most four tubes within CIEDE2000 {REACHED:g}. Which tubes are best was found
by exchange: the widest palette first and, up to {EXCHANGED} tubes, then the number of chips in its
body; or the best smaller palette, enlarged, where that reaches more. It is not proved that no other
choice does.

![How many chips the best 3 to 12 tubes reach](pictures/palette-reach.svg)

| tubes | which | chips | |
| --- | --- | --- | --- |
{bars}

## A warm and a cool of each primary

It is commonly taught that a warm and a cool yellow, red and blue reach more than one of each
(common practice, no source). With white in each palette:

| palette | tubes | chips | volume in CIELAB |
| --- | --- | --- | --- |
{pairs}

So the claim is {verdict} here: the pairs reach {six:,} chips, one of each {three:,} or, cool ones,
{cool:,}. Seven tubes are more than four, though: the best six and the best eight above, chosen for
reach and by no rule, have {counts[6]:,} and {counts[8]:,}.

Written by `python -m tools.pictures.palette_reach`.
"""


if __name__ == "__main__":
    main()
