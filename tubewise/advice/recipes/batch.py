"""Many targets at once: a file of colours, and the best recipe for each from one box."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from tubewise.advice.recipes.described import Brief, described
from tubewise.advice.recipes.first_answer import simplest
from tubewise.advice.recipes.out_of_reach import hue_held
from tubewise.advice.recipes.problem import MAX_PAINTS, MAX_PARTS, problem_of
from tubewise.advice.recipes.recipe import paints_allowed
from tubewise.advice.recipes.results import Recipe
from tubewise.advice.recipes.target import Target, target
from tubewise.advice.recipes.watercolour import palette
from tubewise.advice.recipes.wishes import (
    ALL_LIGHTS,
    PLAIN,
    SPECTRUM,
    Wishes,
    permitted,
    understood,
)
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.search.batch import search_many
from tubewise.tables.cells import text_of
from tubewise.tables.headers import find_table, heading, refuse
from tubewise.tables.spreadsheet import read_grids

_COLUMNS = {heading(word): "target" for word in ("target", "colour", "color", "aim")} | {
    heading(word): "name" for word in ("name", "title", "what", "which")
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchLine:
    """One target of a batch with its best recipe; the rest as in a single search."""

    name: str
    target: Colour
    recipe: Recipe
    proved_best: bool
    gap: float
    spectral: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """The answer for a file of targets, in the file's order."""

    lines: tuple[BatchLine, ...]


def is_batch(path: Path) -> bool:
    """Whether a file is a list of targets: a spreadsheet with a column `target`."""
    if path.suffix.casefold() not in (".csv", ".tsv", ".txt", ".xlsx"):
        return False
    try:
        grids = read_grids(path, frozenset(_COLUMNS))
    except UserError:
        return False
    return any(find_table(grid, _COLUMNS, (("target",),)) is not None for grid in grids)


def read_targets(path: Path, shelf: Shelf) -> list[Target]:
    """The targets of a CSV or XLSX file with a column `target` and, if wished, `name`.

    A target is what `recipe` takes: a tube, `lab:L,a,b`, `#rrggbb` or `munsell:…`. Raises UserError
    that lists every row that cannot be understood.
    """
    problems: list[str] = []
    found: list[Target] = []
    for grid in read_grids(path, frozenset(_COLUMNS)):
        table = find_table(grid, _COLUMNS, (("target",),))
        for row in table.rows if table else ():
            assert table is not None
            text = text_of(table.cell(row, "target")).strip()
            if not text:
                continue
            try:
                aim = target(text, shelf)
            except UserError as error:
                problems.append(f"row {row.number}: {error}")
                continue
            name = text_of(table.cell(row, "name")).strip()
            found.append(replace(aim, name=name) if name else aim)
    refuse(path.name, problems, "the targets")
    if not found:
        raise UserError("no targets under the header", where=path.name)
    return found


def batch(
    targets: Sequence[Target],
    paints: Sequence[Paint],
    max_paints: int = MAX_PAINTS,
    max_parts: int | None = MAX_PARTS,
    medium: str = "",
    wishes: Wishes = PLAIN,
    progress: Callable[[int, int], None] | None = None,
) -> Batch:
    """A recipe for each of `targets` from one box, solved together: what `recipe` would put first.

    That is the simplest that does, out of reach the strongest of the hue, else the nearest. In
    watercolour they are washes on paper, as in `recipe`.

    `progress(done, all)` is called after each. Raises UserError as `recipe` does, and for wishes
    about several lights or the spectrum, which a list of colours does not settle.
    """
    if wishes.light in (ALL_LIGHTS, SPECTRUM):
        raise UserError("a batch is solved under one light; ask for the others one by one")
    paints, wishes = understood(wishes, paints)
    paints = permitted(paints, wishes, medium)
    if not paints or not targets:
        raise UserError("a batch needs at least one target and one tube that declares its pigments")
    max_paints = paints_allowed(max_paints, max_parts)
    paints, max_paints, max_parts, wishes = palette(paints, max_paints, max_parts, medium, wishes)
    most = min(max_paints, len(paints))
    problem = problem_of(targets[0], paints, most, max_parts, wishes)
    labs = [t.lab_under(wishes.light) for t in targets]
    lines: list[BatchLine] = []
    for aim, result in zip(targets, search_many(problem, labs), strict=True):
        brief = Brief(target=aim, medium=medium, wishes=wishes)
        single = problem_of(aim, paints, most, max_parts, wishes)
        strongest = hue_held(single, result.best, paints, brief)
        first = strongest.recipe if strongest else simplest(single, result, paints, brief)
        lines.append(
            BatchLine(
                name=aim.name,
                target=aim.colour,
                recipe=first or described(result.best, problem, paints, brief),
                proved_best=result.proved_best,
                gap=round(float(result.gap), 3),
                spectral=aim.spectral,
            )
        )
        if progress is not None:
            progress(len(lines), len(targets))
    return Batch(lines=tuple(lines))
