"""The nightly question of a chain of shops: for every tube, what takes its place.

All pairs of a hundred thousand tubes are five thousand million, so near tubes are found by an index
and only these are judged, by the one judge that `standin` is. What was found the last time stands
as long as nothing near it changed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from tubewise.advice.alike.standin_results import PLAIN, StandInWishes
from tubewise.advice.chain.crew import Crew
from tubewise.advice.chain.line import Line, tubes_in
from tubewise.advice.chain.near import Nearness, Points, handiest, mixing
from tubewise.advice.chain.worker import Task
from tubewise.colour.arrays import Floats
from tubewise.paints.shelf import Measured
from tubewise.store.rows import digest, tube_document
from tubewise.tubes.tube import Tube

_KEPT_AT_ONCE = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What a run is to find: by `wishes`, at most so many `most` for a tube, dated `date`.

    `model` names the version of what judges; another one makes everything anew. `processes` work
    at once.
    """

    date: str
    model: str
    wishes: StandInWishes = PLAIN
    most: int = 3
    processes: int = 2


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Kept:
    """What is kept of one tube from run to run.

    `digest` is of the tube, `basis` of all else that its lines hang on; `points` are where it lies,
    nowhere where nothing says what it holds, and nothing farther than `radius` was looked at.
    """

    tube: str
    medium: str
    digest: str
    basis: str
    points: Points
    radius: float
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """How a run ended: all that is `kept` now, which tubes were `judged` anew, which are `gone`."""

    kept: tuple[Kept, ...]
    judged: tuple[str, ...]
    gone: tuple[str, ...]


def run(
    tubes: Sequence[Tube],
    measured: Mapping[str, Measured],
    plan: Plan,
    before: Mapping[str, Kept] | None = None,
    progress: Callable[[int, int], None] | None = None,
    keep: Callable[[Sequence[Kept]], None] | None = None,
) -> Run:
    """Find what stands in for every tube; what `before` says is taken where nothing changed.

    Each tube is judged against the `NEAR` nearest in stock and, in mixtures, against the handiest
    tube of each pigment too. `keep` is given what was found batch by batch: a run that was stopped
    goes on from there, since a tube that changed is kept after all those that it reaches.
    """
    before = before or {}
    media = mixing(tubes)
    bases = _bases(tubes, media, plan)
    digests = {tube.id: _digest(tube, measured) for tube in tubes}
    moved = [
        tube
        for tube in tubes
        if _moved(before.get(tube.id), digests[tube.id], plan.model, media[tube.medium])
    ]
    gone = tuple(sorted(before.keys() - digests.keys()))
    stale = [t for t in tubes if t.id in before and before[t.id].basis != bases[t.medium]]
    if not moved and not gone and not stale:
        return Run(kept=tuple(before[tube.id] for tube in tubes), judged=(), gone=())
    fresh: dict[str, Kept] = {}
    with Crew(tubes, measured, plan.processes) as crew:
        points = _points(tubes, moved, before, media, crew)
        changed = {tube.id for tube in moved}
        reached = [tube for tube in stale if tube.id not in changed]
        reached += _reached(tubes, [*moved, *reached], [*changed, *gone], before, points)
        nearness, pools = Nearness(tubes, points), _pools(tubes, media, plan)
        count = len(moved) + len(reached)
        for some in (reached, moved):
            batch: list[Kept] = []
            for kept in _judged(some, points, nearness, pools, crew, plan):
                kept = replace(kept, digest=digests[kept.tube], basis=bases[kept.medium])
                fresh[kept.tube] = kept
                batch.append(kept)
                if progress is not None:
                    progress(len(fresh), count)
                if keep is not None and len(batch) >= _KEPT_AT_ONCE:
                    keep(batch)
                    batch = []
            if keep is not None and batch:
                keep(batch)
    return Run(
        kept=tuple(fresh.get(tube.id) or before[tube.id] for tube in tubes),
        judged=tuple(fresh),
        gone=gone,
    )


def _judged(
    some: Sequence[Tube],
    points: Mapping[str, Points],
    nearness: Nearness,
    pools: Mapping[str, tuple[str, ...]],
    crew: Crew,
    plan: Plan,
) -> Iterator[Kept]:
    """What is found of each tube, without the digests."""
    radii: dict[str, float] = {}
    by_id = {tube.id: tube for tube in some}
    tasks = _tasks(some, points, nearness, pools, radii)
    for task, lines in crew.judged(tasks, plan.wishes, plan.most, plan.date):
        yield Kept(
            tube=task.tube,
            medium=by_id[task.tube].medium,
            digest="",
            basis="",
            points=points[task.tube],
            radius=radii[task.tube],
            lines=tuple(lines),
        )


def _digest(tube: Tube, measured: Mapping[str, Measured]) -> str:
    """Of what a tube is; of its stock, whether there is any: every sale changes the count."""
    own = measured.get(tube.id)
    kept = {**tube_document(tube), "stock": tube.stock != 0}
    return digest([kept, own.summary if own is not None else ""])


def _pools(
    tubes: Sequence[Tube], media: Mapping[str, tuple[str, ...]], plan: Plan
) -> dict[str, tuple[str, ...]]:
    """By medium, the tubes that mixtures are made from."""
    if plan.wishes.most_paints == 1:
        return {}
    own = handiest(tubes)
    return {
        medium: tuple(key for other in mixing_too for key in own.get(other, ()))
        for medium, mixing_too in media.items()
    }


def _bases(
    tubes: Sequence[Tube], media: Mapping[str, tuple[str, ...]], plan: Plan
) -> dict[str, str]:
    """By medium, a fingerprint of what the lines of all its tubes hang on.

    That is the model, the wishes, the whites at hand, and the tubes that are mixed from.
    """
    pools = _pools(tubes, media, plan)
    by_id = {tube.id: tube for tube in tubes}
    whites: dict[str, set[str]] = {medium: set() for medium in media}
    for tube in tubes:
        # In oil the white of tints is the one at hand.
        if tube.refs and tube.refs[0].code.startswith("PW"):
            whites[tube.medium].add(tube.refs[0].code)
    return {
        medium: f"{plan.model} "
        + digest(
            [
                repr(plan.wishes),
                plan.most,
                sorted(whites[medium]),
                [_digest(by_id[key], {}) for key in pools.get(medium, ())],
            ]
        )
        for medium in media
    }


def _moved(kept: Kept | None, now: str, model: str, media: Sequence[str]) -> bool:
    """Whether nothing that is kept says where the tube lies."""
    if kept is None or kept.digest != now or kept.basis.split(" ")[0] != model:
        return True
    return bool(kept.points) and set(kept.points) != set(media)


def _points(
    tubes: Sequence[Tube],
    moved: Sequence[Tube],
    before: Mapping[str, Kept],
    media: Mapping[str, tuple[str, ...]],
    crew: Crew,
) -> dict[str, Points]:
    """Where each tube lies; those that moved are looked at anew."""
    anew = {tube.id for tube in moved}
    points = {tube.id: before[tube.id].points for tube in tubes if tube.id not in anew}
    ordered = sorted(moved, key=lambda tube: (tube.medium, tube.label, tube.id))
    places = [(tube.id, media[tube.medium]) for tube in ordered]
    points.update((key, found) for (key, _), found in crew.points(places))
    return points


def _reached(
    tubes: Sequence[Tube],
    unsettled: Sequence[Tube],
    changed: Sequence[str],
    before: Mapping[str, Kept],
    points: Mapping[str, Points],
) -> list[Tube]:
    """The tubes whose lines hang on another one that changed, came or went.

    One that is gone or sold out is missed only where it was offered: the tube that then comes into
    view lies farther away than all that were not good enough.
    """
    known = {tube.id for tube in unsettled}
    settled = [tube for tube in tubes if tube.id not in known]
    changes = set(changed)
    offered = {
        tube.id
        for tube in settled
        if any(key in changes for line in before[tube.id].lines for key in tubes_in(line))
    }
    here = {tube.id for tube in tubes if tube.stock != 0}
    come = [points[key] for key in changed if key in here and points[key]]
    for medium, some in _by_medium(t for t in settled if points[t.id]):
        stack = np.stack([points[tube.id][medium] for tube in some])
        radius = np.array([before[tube.id].radius for tube in some])
        touched = np.zeros(len(some), dtype=bool)
        for place in come:
            if medium in place:
                touched |= np.linalg.norm(stack - place[medium], axis=1) <= radius
        offered.update(tube.id for tube, hit in zip(some, touched, strict=True) if hit)
    return [tube for tube in settled if tube.id in offered]


def _tasks(
    unsettled: Sequence[Tube],
    points: Mapping[str, Points],
    nearness: Nearness,
    pools: Mapping[str, tuple[str, ...]],
    radii: dict[str, float],
) -> list[Task]:
    """What is to be judged, neighbours after one another; `radii` are filled in."""
    radii.update((tube.id, 0.0) for tube in unsettled)
    tasks = [Task(tube=tube.id, among=()) for tube in unsettled if not points[tube.id]]
    for medium, some in _by_medium(tube for tube in unsettled if points[tube.id]):
        # Neighbours are mostly of one hue, so that a process needs again what it opened.
        some.sort(key=lambda tube: _hue(points[tube.id][tube.medium]))
        stack = np.stack([points[tube.id][medium] for tube in some])
        for tube, near in zip(some, nearness.near(medium, stack), strict=True):
            radii[tube.id] = near.radius
            among = tuple(dict.fromkeys((*near.tubes, *pools.get(medium, ()))))
            tasks.append(Task(tube=tube.id, among=among))
    return tasks


def _hue(point: Floats) -> float:
    """The hue angle of the masstone, with which a point begins."""
    return float(np.arctan2(point[2], point[1]))


def _by_medium(tubes: Iterable[Tube]) -> list[tuple[str, list[Tube]]]:
    found: dict[str, list[Tube]] = {}
    for tube in tubes:
        found.setdefault(tube.medium, []).append(tube)
    return list(found.items())
