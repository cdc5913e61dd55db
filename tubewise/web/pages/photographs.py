"""Photographs of tubes: sent, read, looked over line by line, and kept as somebody's box."""

from __future__ import annotations

from typing import Annotated, Any, Final
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Depends, File, Request, UploadFile
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import RedirectResponse, Response
from starlette.datastructures import FormData

from tubewise.advice.photographs.box import BoxLine, lines_of, settle
from tubewise.advice.photographs.labels import TubeSeen
from tubewise.errors import UserError
from tubewise.labels.photo.photo_reading import Corners
from tubewise.limits import MOST_PHOTOGRAPHS_SENT
from tubewise.pictures.extra import INSTALL, has_photos
from tubewise.pictures.opening import KINDS
from tubewise.pictures.saving import cropped, straightened
from tubewise.store.pictures import KeptPicture, kept_of
from tubewise.store.store import Store
from tubewise.tubes.folded import folded
from tubewise.tubes.tube import Box, Tube
from tubewise.web.changes import may_change
from tubewise.web.missing import MissingError
from tubewise.web.photograph_jobs import Job, PhotographJobs
from tubewise.web.questions import Name
from tubewise.web.render import counter_of, page, waiting_page
from tubewise.web.uploads import plain_file_name

router = APIRouter()
MOST_FILES: Final = 24
Sent = Annotated[list[UploadFile], File()]


def _jobs(request: Request) -> PhotographJobs:
    found: PhotographJobs = request.app.state.photographs
    return found


@router.get("/photographs")
def photographs(request: Request, seat: Name = "", boxes: Name = "") -> Response:
    """Where photographs are sent."""
    return page(
        request,
        "photographs.html",
        here="class",
        has_photos=has_photos(),
        install=INSTALL,
        kinds=",".join(KINDS),
        most_mb=MOST_PHOTOGRAPHS_SENT // 2**20,
        seat=seat,
        boxes=boxes,
    )


@router.post("/photographs", dependencies=[Depends(may_change)])
def send(request: Request, files: Sent, seat: Name = "", boxes: Name = "") -> Response:
    """Take photographs in; they are read outside the request."""
    named = [file for file in files if file.filename]
    if not named:
        raise UserError("Choose a photograph first.")
    if len(named) > MOST_FILES:
        raise UserError(f"More than {MOST_FILES} photographs are too many at once.")
    sent = [(plain_file_name(file.filename, KINDS), file.file.read()) for file in named]
    key = _jobs(request).start(sent, request.scope.get("tubewise.visitor", ""))
    return RedirectResponse(_address(key, seat, boxes), 303)


def _address(key: str, seat: str, boxes: str) -> str:
    chosen = {name: text for name, text in (("seat", seat), ("boxes", boxes)) if text}
    return f"/photographs/{key}" + (f"?{urlencode(chosen)}" if chosen else "")


@router.get("/photographs/kept/{number}.jpg")
def kept_picture(request: Request, number: int) -> Response:
    """A photograph that was kept with a tube."""
    found = counter_of(request).holdings().store.picture(number)
    if found is None:
        raise MissingError("There is no such photograph.")
    return Response(found.jpeg, media_type="image/jpeg")


@router.post("/photographs/kept/{number}/remove", dependencies=[Depends(may_change)])
def remove_picture(request: Request, number: int) -> Response:
    """Take a kept photograph away from its tube."""
    counter = counter_of(request)
    found = counter.holdings().store.picture(number)
    if found is None:
        raise MissingError("There is no such photograph.")
    counter.change(lambda store: store.withdraw_picture(number))
    return RedirectResponse(f"{_tube_page(found)}?removed_picture={number}#removed-picture", 303)


@router.post("/photographs/kept/{number}/restore", dependencies=[Depends(may_change)])
def restore_picture(request: Request, number: int) -> Response:
    """Bring a photograph back that was taken away."""
    counter = counter_of(request)
    if not counter.change(lambda store: store.reinstate_picture(number)):
        raise MissingError("There is no removed photograph to bring back.")
    found = counter.holdings().store.picture(number)
    return RedirectResponse(_tube_page(found) if found else "/tubes", 303)


def _tube_page(kept: KeptPicture) -> str:
    return f"/tubes/{quote(kept.tube_id, safe='')}"


@router.get("/photographs/{key}")
def read(request: Request, key: str, seat: Name = "", boxes: Name = "") -> Response:
    """How far the reading has come; then each tube, with what is to be settled."""
    job = _jobs(request).job(key)
    if job.error is not None:
        raise job.error
    if job.answer is None:
        return waiting_page(
            request,
            here="class",
            title="Reading the photographs",
            done=job.done,
            every=len(job.paths),
            of_what="photograph",
        )
    holdings = counter_of(request).holdings()
    sets = list(holdings.boxes)
    answer = page(
        request,
        "photographed.html",
        here="class",
        key=key,
        photographs=_with_numbers(job),
        seat=seat,
        boxes=boxes or (sets[0] if sets else ""),
        marks=_marks,
    )
    answer.headers["cache-control"] = "no-store"
    return answer


def _with_numbers(job: Job) -> list[tuple[int, Any, list[tuple[int, Any]]]]:
    """Each photograph with its number, and its tubes with their numbers through all of them."""
    found = []
    count = 0
    for number, photograph in enumerate(job.answer or ()):
        tubes = list(enumerate(photograph.tubes, count))
        count += len(tubes)
        found.append((number, photograph, tubes))
    return found


def _marks(tube: TubeSeen) -> list[tuple[int, int, str, str]]:
    """Where a label's codes and doubts stand in its text, as `marked` takes them."""
    doubts = [(*doubt.span, "doubt", doubt.message) for doubt in tube.doubts if doubt.span]
    return [*doubts, *((*p.span, "code", p.called) for p in tube.label.pigments)]


@router.get("/photographs/{key}/{number}.jpg")
def picture(request: Request, key: str, number: int) -> Response:
    """A photograph with what was read drawn in."""
    data = _jobs(request).job(key).marked(number).read_bytes()
    return Response(data, media_type="image/jpeg", headers={"cache-control": "private"})


@router.get("/photographs/{key}/{number}/{doubt}.jpg")
def doubtful_print(request: Request, key: str, number: int, doubt: int) -> Response:
    """The print that a doubt is about, laid straight; doubts count from 1 on each photograph."""
    job = _jobs(request).job(key)
    path = job.marked(number)
    photograph = (job.answer or ())[number]
    doubts = [d for tube in photograph.tubes for d in tube.doubts]
    if not 1 <= doubt <= len(doubts) or not doubts[doubt - 1].corners:
        raise MissingError("There is no such doubt.")
    whole = (photograph.width, photograph.height)
    data = straightened(path, doubts[doubt - 1].corners, whole)
    return Response(data, media_type="image/jpeg", headers={"cache-control": "private"})


@router.post("/photographs/{key}/keep", dependencies=[Depends(may_change)])
async def keep(request: Request, key: str) -> Response:
    """Keep the tubes that were ticked, as the person settled them, in a seat's box."""
    form = await request.form()
    # Cutting pictures and writing take their time, in which others are to be answered.
    return await run_in_threadpool(_kept, request, _jobs(request).job(key), form)


def _kept(request: Request, job: Job, form: FormData) -> Response:
    seat, boxes = _text(form, "seat"), _text(form, "boxes")
    if not seat:
        raise UserError("Say whose box it is.")
    if job.answer is None:
        raise MissingError("These photographs are not read yet.")
    medium = _text(form, "medium")
    known = counter_of(request).holdings().tubes
    chosen = [
        (number, _settled(line, form, number).tube(medium, known))
        for number, line in enumerate(lines_of(job.answer))
        if _text(form, f"t{number}.keep")
    ]
    if not chosen:
        raise UserError("Tick the tubes that are right.")
    pictures = _pictures(job, chosen) if _text(form, "pictures") else []
    instead = bool(_text(form, "instead"))

    box = Box(seat, tuple(tube for _, tube in chosen))
    form_sent = (folded(seat), boxes, instead, bool(pictures), box.tubes)

    def work(store: Store) -> None:
        # A form that is sent twice is kept once. Changes come one at a time.
        if form_sent not in job.kept:
            store.keep_in_box(box, boxes, instead=instead, kept=pictures)
            job.kept.append(form_sent)

    counter_of(request).change(work)
    return RedirectResponse(f"/class/boxes?{urlencode({'boxes': boxes, 'saved': seat})}#saved", 303)


def _text(form: FormData, name: str) -> str:
    found = form.get(name, "")
    return found.strip()[:4000] if isinstance(found, str) else ""


def _settled(line: BoxLine, form: FormData, number: int) -> BoxLine:
    """A line with the person's name for it and their answers; a label typed anew wins."""
    from dataclasses import replace

    name = _text(form, f"t{number}.name")[:200]
    typed = _text(form, f"t{number}.label").replace("\r\n", "\n")
    if typed and typed != line.text.strip():
        return replace(line, name=name, text=typed, doubts=())
    answers_by_doubt = {
        id(doubt): _text(form, f"t{number}.d{k}")[:200] for k, doubt in enumerate(line.doubts)
    }
    return replace(settle(line, lambda _, doubt: answers_by_doubt[id(doubt)]), name=name)


def _pictures(job: Job, chosen: list[tuple[int, Tube]]) -> list[KeptPicture]:
    """For each tube its part of the marked photograph."""
    places = [
        (number, photograph, tube)
        for number, photograph in enumerate(job.answer or ())
        for tube in photograph.tubes
    ]
    found = []
    for at, tube in chosen:
        number, photograph, seen = places[at]
        whole = (photograph.width, photograph.height)
        jpeg = cropped(job.marked(number), _box(seen.corners), whole)
        doubts = [{"message": d.message, "candidates": list(d.candidates)} for d in seen.doubts]
        found.append(kept_of(tube, jpeg, doubts))
    return found


def _box(corners: Corners) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    spare = 0.12 * max(max(xs) - min(xs), max(ys) - min(ys))
    return min(xs) - spare, min(ys) - spare, max(xs) + spare, max(ys) + spare
