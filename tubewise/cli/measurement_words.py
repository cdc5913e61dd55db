"""A fit as data for other programs, and in words for a terminal."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import numpy as np
import typer

from tubewise.colour.grid import WAVELENGTHS_NM

if TYPE_CHECKING:
    from tubewise.measure.attach import Version
    from tubewise.measure.measured import MeasuredOptics


def as_data(optics: MeasuredOptics, version: Version | None) -> dict[str, Any]:
    """The fit band by band and drawdown by drawdown."""
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


def print_measurement(optics: MeasuredOptics, version: Version | None) -> None:
    """Print what the fit found, what it assumed, and whether it was kept."""
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
