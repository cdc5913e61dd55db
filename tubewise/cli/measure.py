"""`tubewise measure`: an instrument's readings into measured optics, kept with their tube."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from tubewise.cli.options import Json

if TYPE_CHECKING:
    from tubewise.measure.attach import Version
    from tubewise.measure.measured import MeasuredOptics
    from tubewise.measure.references import Optics


def measure(
    files: Annotated[
        list[Path] | None,
        typer.Argument(
            metavar="FILE …", help="Readings: CGATS, CxF3 or CSV, or an exported measurement."
        ),
    ] = None,
    tube: Annotated[str, typer.Option(help="Id of the tube that was measured.")] = "",
    manifest: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Which reading is which drawdown; see --template."),
    ] = None,
    specular: Annotated[
        str, typer.Option(help="included or excluded, where the file doesn't say.")
    ] = "",
    scale: Annotated[str, typer.Option(help="auto, fraction or percent.")] = "auto",
    density: Annotated[
        float | None, typer.Option(help="Of the paint, g/ml, for parts by weight.")
    ] = None,
    white_density: Annotated[float | None, typer.Option(help="Of the white, g/ml.")] = None,
    white: Annotated[
        str, typer.Option(help="The white of the tints: a measured tube's id or an exported file.")
    ] = "",
    pigment: Annotated[
        str, typer.Option(help="PV19/gamma and the like: the model to lean on, if a tube has none.")
    ] = "",
    swatch: Annotated[
        str, typer.Option(metavar="L,a,b", help="Only a swatch's colour: scale the model to it.")
    ] = "",
    only: Annotated[
        str, typer.Option(metavar="NAME", help="The paint, where the files hold several.")
    ] = "",
    fit_surface: Annotated[
        bool, typer.Option("--fit-surface", help="Fit Saunderson's constants too.")
    ] = False,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Fit and tell, but don't keep it with the tube.")
    ] = False,
    history: Annotated[
        bool, typer.Option("--history", help="List the tube's measurements.")
    ] = False,
    withdraw: Annotated[
        bool, typer.Option("--withdraw", help="Set the tube's measurement aside.")
    ] = False,
    reinstate: Annotated[
        bool, typer.Option("--reinstate", help="Use a withdrawn measurement again (--number).")
    ] = False,
    number: Annotated[
        int | None, typer.Option(help="Which of the tube's measurements; else the one in use.")
    ] = None,
    export: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the measurement as JSON.")
    ] = None,
    template: Annotated[
        bool, typer.Option("--template", help="Print a list of drawdowns to fill in.")
    ] = False,
    as_json: Json = False,
) -> None:
    """Turn readings of a paint's drawdowns into its measured K and S, and keep them with its tube.

    Name the samples `masstone`, `masstone over black`, `masstone over white`, `tint 1:4` (parts of
    paint to white by volume; `tint 1:4 by weight`), `white`, `card black`, `card white`; or list
    them in a spreadsheet (--manifest; --template prints one).
    """
    from tubewise.errors import UserError

    if template:
        from tubewise.measure.manifest import template as text

        typer.echo(text(), nl=False)
        return
    asked = [
        name
        for name, on in (
            ("--history", history),
            ("--withdraw", withdraw),
            ("--reinstate", reinstate),
        )
        if on
    ]
    if len(asked) > 1 or (asked and (files or swatch)):
        raise UserError(f"{' and '.join(asked) or 'This'} can't go with the rest; ask one thing.")
    if asked or (export and not files and not swatch):
        _kept(tube, asked[0] if asked else "--export", number, export, as_json)
        return
    if not files and not swatch:
        raise UserError(
            "Name the files of readings, or give a swatch's colour with --swatch L,a,b."
        )
    optics = _learn(
        files or [],
        tube,
        manifest,
        specular,
        scale,
        density,
        white_density,
        white,
        pigment,
        swatch,
        only,
        fit_surface,
    )
    version = None
    if optics.tube and not dry_run:
        from tubewise.measure import attach
        from tubewise.store.store import Store

        with Store() as store:
            version = attach.attach(store, optics)
    if export:
        _write(export, optics.to_json())
    if as_json:
        _print_json(_answer(optics, version))
    else:
        _tell(optics, version)


def _learn(
    files: list[Path],
    tube: str,
    manifest: Path | None,
    specular: str,
    scale: str,
    density: float | None,
    white_density: float | None,
    white: str,
    pigment: str,
    swatch: str,
    only: str,
    fit_surface: bool,
) -> MeasuredOptics:
    from dataclasses import replace

    from tubewise.errors import UserError
    from tubewise.measure.drawdowns import drawdown_set
    from tubewise.measure.learn import learn
    from tubewise.measure.manifest import read_manifest
    from tubewise.measure.measured import from_json
    from tubewise.measure.read_file import read_file

    model = _model(tube, pigment)
    if swatch:
        from tubewise.measure.readings import number
        from tubewise.measure.swatch import learn_from_swatch

        if files:
            raise UserError("Give readings or a swatch's colour, not both.")
        lab = [number(v) for v in swatch.removeprefix("lab:").replace(";", ",").split(",")]
        if len(lab) != 3 or any(v is None for v in lab):
            raise UserError("--swatch is three numbers, L,a,b.", where=f"“{swatch}”")
        if model is None:
            raise UserError("A swatch needs a pigment's model: say --tube or --pigment.")
        return learn_from_swatch([float(v or 0.0) for v in lab], model, tube=tube)
    if len(files) == 1 and files[0].suffix.lower() == ".json":
        text = read_text(files[0])
        again = from_json(text, files[0].name)
        return replace(again, tube=tube or again.tube)
    drawn = drawdown_set(
        [read_file(path, scale) for path in files],
        read_manifest(manifest) if manifest else (),
        specular.casefold(),
        density,
        white_density,
        only,
    )
    return learn(drawn, tube=tube, white=_white(white), model=model, fit_surface=fit_surface)


def read_text(path: Path) -> str:
    """A text file's content. Raises UserError when it can't be read."""
    from tubewise.errors import UserError

    try:
        return path.read_text(encoding="utf-8")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "not UTF-8 text"
        raise UserError(f"The file can't be read ({reason}).", where=str(path)) from None


def _white(term: str) -> Optics | None:
    """The white of the tints as measured, from a file or the store; None for the model."""
    from tubewise.errors import UserError
    from tubewise.measure.attach import current
    from tubewise.measure.measured import from_json
    from tubewise.measure.references import Optics
    from tubewise.store.store import Store

    if not term:
        return None
    if Path(term).suffix.lower() == ".json":
        optics = from_json(read_text(Path(term)), Path(term).name)
    else:
        with Store() as store:
            found = current(store, term)
        if found is None:
            raise UserError("This white has no measurement in use.", where=f"“{term}”")
        optics = found.optics
    return Optics(optics.K, optics.S, f"the measured white {optics.tube or term}")


def _model(tube: str, pigment: str) -> Optics | None:
    """The model of the pigment named, or of the only pigment of the tube in the store."""
    from tubewise.measure.references import Optics
    from tubewise.pigments.models import optics

    refs: tuple[str, ...] = (pigment,) if pigment else ()
    if tube and not refs:
        from tubewise.store.store import Store

        with Store() as store:
            known = store.tube(tube)
        refs = known.refs if known is not None else ()
    if len(refs) != 1:
        return None
    found = optics(refs[0])
    return Optics(found.K, found.S, f"modelled {found.ref}")


def _kept(tube: str, action: str, number: int | None, export: Path | None, as_json: bool) -> None:
    from tubewise.errors import UserError
    from tubewise.measure import attach
    from tubewise.store.store import Store

    if not tube:
        raise UserError("Say which tube: --tube ID.")
    with Store() as store:
        if action == "--export" and export is not None:
            _write(export, attach.export(store, tube, number))
            versions: tuple[Version, ...] = ()
        elif action == "--withdraw":
            versions = (attach.withdraw(store, tube, number),)
        elif action == "--reinstate":
            if number is None:
                raise UserError("Say which measurement to use again: --number N.")
            versions = (attach.reinstate(store, tube, number),)
        else:
            versions = attach.history(store, tube)
    if as_json:
        _print_json(
            {
                "tube": tube,
                "measurements": [
                    {
                        "version": v.version,
                        "withdrawn": v.withdrawn,
                        "level": v.optics.level,
                        "date": v.optics.date,
                        "instrument": v.optics.instrument,
                        "worst_delta_e00": v.optics.worst_delta_e00,
                    }
                    for v in versions
                ],
            }
        )
        return
    for v in versions:
        typer.echo(v.words)
    if action == "--history" and not versions:
        typer.echo("never measured")
    if action == "--export":
        typer.echo(f"written to {export}")


def _write(path: Path, text: str) -> None:
    from tubewise.errors import UserError

    try:
        path.write_text(text + "\n", encoding="utf-8")
    except OSError as error:
        raise UserError(f"Can't write there ({error.strerror}).", where=str(path)) from None


def _answer(optics: MeasuredOptics, version: Version | None) -> dict[str, Any]:
    from dataclasses import asdict

    import numpy as np

    from tubewise.colour.grid import WAVELENGTHS_NM

    draws_K, draws_S = optics.draws(400, np.random.default_rng(0))
    spread_K = np.log(draws_K[1:]).std(axis=0)
    spread_S = np.log(draws_S[1:]).std(axis=0)
    return {
        "tube": optics.tube,
        "version": version.version if version else None,
        "basis": "measured",
        "level": optics.level,
        "confidence": optics.confidence,
        "summary": optics.summary,
        "date": optics.date,
        "instrument": optics.instrument,
        "conditions": asdict(optics.conditions),
        "surface": {"k1": optics.surface[0], "k2": optics.surface[1]},
        "delta_e00": {
            "worst": optics.worst_delta_e00,
            "mean": float(np.mean([film.delta_e00 for film in optics.films])),
        },
        "drawdowns": [asdict(film) for film in optics.films],
        "bands": [
            {
                "nm": float(nm),
                "rms": float(optics.rms[b]),
                "K": float(optics.K[b]),
                "S": float(optics.S[b]),
                "sigma_ln_K": float(spread_K[b]),
                "sigma_ln_S": float(spread_S[b]),
            }
            for b, nm in enumerate(WAVELENGTHS_NM)
        ],
        "assumed": list(optics.assumed),
        "not_learned": list(optics.not_learned),
        "warnings": list(optics.warnings),
    }


def _print_json(answer: dict[str, Any]) -> None:
    import json

    typer.echo(json.dumps(answer, ensure_ascii=False, indent=2))


def _tell(optics: MeasuredOptics, version: Version | None) -> None:
    typer.echo(optics.summary)
    for film in optics.films:
        own = f", fitted parts {film.parts_error:.3f} of those stated" if film.share < 1 else ""
        thick = f", film {film.thickness:.2f}" if film.thickness is not None else ""
        typer.echo(
            f"  {film.sample}: CIEDE2000 {film.delta_e00:.2f}, "
            f"{100 * film.rms:.2f} % of reflectance{own}{thick}"
        )
    for title, words in (
        ("warnings", optics.warnings),
        ("assumed", optics.assumed),
        ("not learned", optics.not_learned),
    ):
        if words:
            typer.echo(f"{title}:")
        for word in words:
            typer.echo(f"  {word}")
    if version:
        typer.echo(f"kept as version {version.version} of {version.tube}; --withdraw sets it aside")
    else:
        typer.echo("not kept: name its tube with --tube ID to keep it")
