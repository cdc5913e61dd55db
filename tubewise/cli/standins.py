"""`tubewise standins`: what takes the place of every tube, as a chain of shops asks at night."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Json, PurposeText, Without

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tubewise.advice.chain.line import Line
    from tubewise.advice.chain.run import Kept, Plan, Run
    from tubewise.tables.cells import Cell

_STORES = (".sqlite3", ".sqlite", ".db")


@dataclass(frozen=True, kw_only=True)
class StandInsQuestion:
    """What `tubewise standins` is asked."""

    out: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="The list to write (CSV, XLSX or JSON)."),
    ] = None
    from_: Annotated[
        str,
        typer.Option(
            "--from",
            metavar="STORE",
            help="A store (file or URL) or a catalogue; else the store that TUBEWISE_DB names.",
        ),
    ] = ""
    all_: Annotated[
        bool, typer.Option("--all", help="List every tube, not only what is sold out.")
    ] = False
    single: Annotated[
        bool, typer.Option("--single", help="Single tubes only, no mixtures of two.")
    ] = False
    most: Annotated[int, typer.Option(help="How many to list for a tube.", min=1)] = 3
    for_: PurposeText = ""
    without: Without = None
    processes: Annotated[
        int, typer.Option(help="How many processes work at once; 0 for one a processor.", min=0)
    ] = 0
    anew: Annotated[
        bool, typer.Option("--anew", help="Judge all again, not only what changed.")
    ] = False
    as_json: Json = False


def standins(question: StandInsQuestion) -> None:
    """Find what stands in for every tube; what did not change since the last run is kept.

    A run that is stopped goes on where it was, and the store keeps what it found.
    """
    from tubewise.cli import show

    place = _place(question.from_)
    _refuse_ending(question.out)
    show.compile_search()
    with show.progress("comparing tubes", quiet=question.as_json) as step:
        done = _run(question, place, step)
    kept = [k for k in done.kept if question.all_ or _sold_out(k)]
    lines = [line for found in kept for line in found.lines]
    if question.out is not None:
        _write(question.out, lines)
    if question.as_json:
        show.print_json(
            {"tubes": len(kept), "judged": len(done.judged), "gone": done.gone, "standins": lines}
        )
        return
    _print(question, done, kept)


def _run(question: StandInsQuestion, place: str | Path, step: Callable[[int, int], None]) -> Run:
    from tubewise.advice.chain.keeping import run_in_store
    from tubewise.advice.chain.run import run
    from tubewise.cli.source import kept_measurements, tubes_of
    from tubewise.store.store import Store

    plan = _plan(question)
    if isinstance(place, Path):
        return run(tubes_of(place), kept_measurements(), plan, progress=step)
    with Store(place) as store:
        return run_in_store(store, plan, step, anew=question.anew)


def _plan(question: StandInsQuestion) -> Plan:
    import datetime
    import os

    from tubewise.advice.alike.standin_results import StandInWishes
    from tubewise.advice.chain.model import model
    from tubewise.advice.chain.run import Plan
    from tubewise.pigments.purpose import purpose_typed

    return Plan(
        date=datetime.date.today().isoformat(),
        model=model(),
        wishes=StandInWishes(
            purpose=purpose_typed(question.for_),
            without=tuple(question.without or ()),
            most_paints=1 if question.single else 2,
        ),
        most=question.most,
        processes=question.processes or os.cpu_count() or 1,
    )


def _place(text: str) -> str | Path:
    """The URL of a store, or the path of a catalogue. Raises UserError for a store not there."""
    from tubewise.errors import UserError
    from tubewise.store.database import default_url, sqlite_url

    if not text or "://" in text:
        return text or default_url()
    path = Path(text)
    if path.suffix.lower() not in _STORES:
        return path
    if not path.is_file():
        raise UserError("There is no store here.", where=text)
    return sqlite_url(path)


def _refuse_ending(out: Path | None) -> None:
    from tubewise.errors import UserError

    if out is not None and out.suffix.lower() not in (".csv", ".xlsx", ".json"):
        raise UserError("Name a file that ends in .csv, .xlsx or .json.", where=str(out))


def _sold_out(kept: Kept) -> bool:
    return any(line.sold_out for line in kept.lines)


def _write(out: Path, lines: Sequence[Line]) -> None:
    from tubewise.advice.chain.line import COLUMNS, document
    from tubewise.advice.plain import to_json
    from tubewise.tables.spreadsheet import write_tables
    from tubewise.tables.writing import write_whole

    if out.suffix.lower() == ".json":
        write_whole(out, to_json(list(lines)) + "\n")
        return
    rows = [[_cell(document(line)[name]) for name in COLUMNS] for line in lines]
    write_tables(out, [("stand-ins", COLUMNS, rows)])


def _cell(value: Cell | bool | None) -> Cell:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else value


def _print(question: StandInsQuestion, done: Run, kept: Sequence[Kept]) -> None:
    from tubewise.advice.words.lists import counted

    which = counted(len(kept), "tube" if question.all_ else "sold-out tube")
    found = sum(any(line.does for line in k.lines) for k in kept)
    print(f"{which}: {found} with a stand-in, {len(kept) - found} with none that does.")
    print(f"{len(done.judged)} judged anew, {len(done.kept) - len(done.judged)} unchanged.")
    if question.out is not None:
        print(f"Written to {question.out}. Modelled unless measured; what is close needs a swatch.")
        return
    for k in kept:
        best = k.lines[0]
        instead = best.instead_title if best.does else "nothing that does"
        print(f"{best.title} ({best.tube}): {instead}")
        if best.does and best.cautions:
            print(f"  * Caution: {best.cautions}")
