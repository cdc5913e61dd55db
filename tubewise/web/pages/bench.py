"""The bench: parts changed by hand, and what comes out."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response

from tubewise.tubes.parts_written import MOST_PARTS
from tubewise.web.bench_answers import MOST_ON_BENCH, bench_of, parts_of
from tubewise.web.questions import Several, SpectrumText, Words
from tubewise.web.render import counter_of, page
from tubewise.web.sources import source_of, sources_of

router = APIRouter()


@router.get("/mixing/bench")
def bench(
    request: Request,
    p: Several,
    term: Several,
    parts: Several,
    target: SpectrumText = "",
    more: Words = "",
    box: Words = "",
) -> Response:
    """Parts changed by hand: `p` as TERM=PARTS, or `term` and `parts` as a form sends them."""
    holdings = counter_of(request).holdings()
    typed = [f"{t}={n or 0}" for t, n in zip(term, parts, strict=False)]
    added = [f"{more.strip()}=1"] if more.strip() else []
    merged: dict[str, float] = {}
    for name, n in parts_of([*p, *typed, *added]):
        merged.setdefault(name, n)
    source = source_of(holdings, box) if box and sources_of(holdings) else None
    return page(
        request,
        "bench.html",
        here="mixing",
        revision=holdings.revision,
        holdings=holdings,
        target=target.strip(),
        paints=[(name, holdings.shelf.term(name), n) for name, n in merged.items()],
        answer=bench_of(holdings, target, list(merged.items())),
        box=source,
        most=MOST_PARTS,
        room=len(merged) < MOST_ON_BENCH,
    )
