"""Measurements: an instrument's readings, the fit, and whether to use it."""

from __future__ import annotations

import secrets
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated
from urllib.parse import quote

import numpy as np
from fastapi import APIRouter, Depends, Form, Request
from fastapi.responses import RedirectResponse, Response

from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.measure.attach import attach, history, reinstate, withdraw
from tubewise.measure.drawdowns import drawdown_set
from tubewise.measure.learn import learn
from tubewise.measure.manifest import Entry, read_manifest
from tubewise.measure.manifest import template as manifest_template
from tubewise.measure.measured import MeasuredOptics, from_json
from tubewise.measure.read_file import read_file
from tubewise.measure.references import only_model
from tubewise.paints.appearance import appearance
from tubewise.web.changes import may_change
from tubewise.web.missing import MissingError
from tubewise.web.pages.tubes import known_tube
from tubewise.web.render import counter_of, page
from tubewise.web.uploads import READINGS, SHEETS, Upload, uploaded

router = APIRouter()
_MOST_PENDING = 50
_PENDING_S = 3600.0


@dataclass(frozen=True, slots=True)
class Pending:
    """A fit that nobody has accepted or refused yet."""

    optics: MeasuredOptics
    since: float


@router.get("/measurements")
def measurements(request: Request) -> Response:
    """The tubes that have been measured, and how to measure one."""
    holdings = counter_of(request).holdings()
    return page(
        request,
        "measurements.html",
        here="measurements",
        revision=holdings.revision,
        holdings=holdings,
        measured=sorted(holdings.measured.items()),
    )


@router.get("/measurements.template")
def template() -> Response:
    """A list of drawdowns to fill in."""
    return Response(
        manifest_template(),
        media_type="text/csv",
        headers={"content-disposition": 'attachment; filename="drawdowns.csv"'},
    )


@router.get("/measurements/of")
def chosen(tube: str = "") -> Response:
    """To the measurements of the tube chosen in a list."""
    if not tube.strip():
        raise UserError("Choose the tube that was measured.")
    return RedirectResponse(f"/measurements/{quote(tube.strip(), safe='')}", 303)


@router.get("/measurements/{tube_id}")
def of_tube(request: Request, tube_id: str, kept: str = "") -> Response:
    """A tube's measurements, newest last, and a form to add one."""
    holdings = counter_of(request).holdings()
    tube = known_tube(holdings, tube_id)
    versions = holdings.remember(("history", tube_id), lambda: history(holdings.store, tube_id))
    return page(
        request,
        "measurement.html",
        here="measurements",
        revision=holdings.revision,
        holdings=holdings,
        tube=tube,
        versions=versions,
        pending=None,
        key="",
        kept=kept,
        colour_of=_masstone,
        curves=(),
    )


def _masstone(found: MeasuredOptics) -> Colour:
    return Colour.of(lab_from_reflectance(appearance(found.K, found.S)))


@router.post("/measurements/{tube_id}", dependencies=[Depends(may_change)])
def fit(
    request: Request,
    tube_id: str,
    file: Upload,
    manifest: Upload | None = None,
    specular: Annotated[str, Form(pattern="^(|included|excluded)$")] = "",
    scale: Annotated[str, Form(pattern="^(auto|fraction|percent)$")] = "auto",
) -> Response:
    """Fit readings to the tube; what comes out waits to be accepted or refused."""
    holdings = counter_of(request).holdings()
    tube = known_tube(holdings, tube_id)
    with uploaded(file, READINGS) as path:
        if path.suffix == ".json":
            found = replace(from_json(path.read_text("utf-8", "replace"), path.name), tube=tube.id)
        else:
            listed: Sequence[Entry] = ()
            if manifest is not None and manifest.filename:
                with uploaded(manifest, SHEETS) as second:
                    listed = read_manifest(second)
            drawn = drawdown_set([read_file(path, scale)], listed, specular)
            found = learn(drawn, tube=tube.id, model=only_model(tube.refs))
    pending: dict[str, Pending] = request.app.state.pending
    now = time.monotonic()
    for old in [k for k, p in pending.items() if now - p.since > _PENDING_S]:
        pending.pop(old, None)
    while len(pending) >= _MOST_PENDING:
        pending.pop(next(iter(pending)))
    key = secrets.token_urlsafe(12)
    pending[key] = Pending(found, now)
    return RedirectResponse(f"/measurements/{quote(tube.id, safe='')}/fit/{key}", 303)


def _pending(request: Request, tube_id: str, key: str) -> MeasuredOptics:
    found: Pending | None = request.app.state.pending.get(key)
    if found is None or found.optics.tube != tube_id:
        raise MissingError("This fit is not waiting any more; send the readings again.")
    return found.optics


@router.get("/measurements/{tube_id}/fit/{key}")
def fitted(request: Request, tube_id: str, key: str) -> Response:
    """What a fit found, how well it meets the readings, and what it could not learn."""
    holdings = counter_of(request).holdings()
    found = _pending(request, tube_id, key)
    tube = known_tube(holdings, tube_id)
    paint = holdings.shelf.tube(tube)
    R = appearance(found.K, found.S)
    curves = [("as measured", _masstone(found).hex, WAVELENGTHS_NM, R)]
    if paint is not None:
        was = appearance(paint.K[0], paint.S[0])
        curves.append(
            (
                f"as {paint.basis} so far",
                Colour.of(lab_from_reflectance(was)).hex,
                WAVELENGTHS_NM,
                was,
            )
        )
    answer = page(
        request,
        "measurement.html",
        here="measurements",
        holdings=holdings,
        tube=tube,
        versions=(),
        pending=found,
        key=key,
        kept="",
        colour_of=_masstone,
        curves=curves,
        worst_nm=int(WAVELENGTHS_NM[int(np.argmax(found.rms))]),
        worst_rms=float(found.rms.max()),
    )
    answer.headers["cache-control"] = "no-store"
    return answer


@router.post("/measurements/{tube_id}/fit/{key}/accept", dependencies=[Depends(may_change)])
def accept(request: Request, tube_id: str, key: str) -> Response:
    """Use a fit from now on."""
    found = _pending(request, tube_id, key)
    version = counter_of(request).change(lambda store: attach(store, found))
    request.app.state.pending.pop(key, None)
    return RedirectResponse(f"/measurements/{quote(tube_id, safe='')}?kept={version.version}", 303)


@router.post("/measurements/{tube_id}/fit/{key}/refuse", dependencies=[Depends(may_change)])
def refuse(request: Request, tube_id: str, key: str) -> Response:
    """Forget a fit."""
    _pending(request, tube_id, key)
    request.app.state.pending.pop(key, None)
    return RedirectResponse(f"/measurements/{quote(tube_id, safe='')}?kept=no", 303)


@router.post("/measurements/{tube_id}/withdraw", dependencies=[Depends(may_change)])
def withdrawn(request: Request, tube_id: str, version: Annotated[int, Form()]) -> Response:
    """Set a measurement aside; it can be taken up again."""
    counter_of(request).change(lambda store: withdraw(store, tube_id, version))
    return RedirectResponse(f"/measurements/{quote(tube_id, safe='')}", 303)


@router.post("/measurements/{tube_id}/reinstate", dependencies=[Depends(may_change)])
def reinstated(request: Request, tube_id: str, version: Annotated[int, Form()]) -> Response:
    """Use a measurement again that was set aside."""
    counter_of(request).change(lambda store: reinstate(store, tube_id, version))
    return RedirectResponse(f"/measurements/{quote(tube_id, safe='')}", 303)
