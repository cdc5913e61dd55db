"""`tubewise recipe`: parts for a wanted colour."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from tubewise.cli.options import Catalogue, Json


def recipe(
    target: Annotated[
        str,
        typer.Argument(
            metavar="TARGET",
            help="A tube, lab:L,a,b, #rrggbb, munsell:5R 4/12 or a spectrum file.",
        ),
    ],
    from_: Annotated[Path, typer.Option("--from", metavar="FILE", help="The tubes to mix from.")],
    max_paints: Annotated[int, typer.Option(help="At most so many tubes.", min=1, max=6)] = 4,
    max_parts: Annotated[int, typer.Option(help="At most so many parts in all.", min=1)] = 16,
    medium: Annotated[str, typer.Option(help="Only tubes of this medium.")] = "",
    catalogue: Catalogue = None,
    as_json: Json = False,
) -> None:
    """Find the parts that mix a colour from the tubes at hand."""
    from tubewise.advice.recipe import recipe as solve
    from tubewise.advice.target import target as aim_at
    from tubewise.cli import show
    from tubewise.cli.source import shelf_of, tubes_of
    from tubewise.errors import UserError

    tubes = tubes_of(from_)
    shelf = shelf_of((), catalogue, tubes)
    if not (
        target.startswith(("lab:", "#", "munsell:"))
        or Path(target).is_file()
        or target in shelf.tubes
    ):
        shelf = shelf_of((target,), catalogue, tubes)
    aim = aim_at(target, shelf)
    wanted = shelf.tubes.get(target)
    if not medium:
        media = sorted({t.medium for t in tubes if t.medium})
        if wanted is not None and wanted.medium:
            medium = wanted.medium
        elif len(media) > 1:
            raise UserError(
                f"this file holds {', '.join(media)}, which do not mix; say one with --medium",
                where=str(from_),
            )
    usable = [t for t in tubes if not medium or t.medium in ("", medium)]
    if wanted is not None:
        usable = [t for t in usable if t.id != wanted.id and t.paint != wanted.paint]
    paints = [p for p in map(shelf.tube, usable) if p is not None]
    answer = solve(aim, paints, max_paints, max(max_parts, max_paints), medium)
    if as_json:
        show.print_json(answer)
        return
    to = show.console()
    L, a, b = answer.target.lab
    show.line(
        to,
        show.patch(answer.target, to, 8),
        f"{answer.target_name}: {answer.target.name}, L* {L:.1f} a* {a:.1f} b* {b:.1f}",
    )
    show.line(to, answer.words)
    how = (
        "proved best"
        if answer.search.proved_best
        else f"not proved best; at most CIEDE2000 {answer.search.gap:.2f} could be gained"
    )
    show.line(to, f"{answer.search.subsets} sets of tubes considered: {how}")
    for number, r in enumerate(answer.recipes, 1):
        show.line(to)
        show.line(to, f"{number}. ", show.patch(r.colour, to, 8), r.words)
        show.line(
            to,
            f"{r.basis}, 95 % within CIEDE2000 {r.uncertainty.delta_e00_95:.1f}; "
            f"lightfastness {r.lightfastness}; under other lights: "
            + ", ".join(f"{k} {v:.1f}" for k, v in r.metamerism.items()),
            indent=3,
        )
        for step in r.steps:
            show.line(to, f"- {step}", indent=3)
        for caution in r.cautions:
            show.line(to, f"Caution: {caution.text}", indent=3)
