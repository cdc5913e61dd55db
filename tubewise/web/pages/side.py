"""Side by side: two to four tubes as strips that touch, and what differs, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response

from tubewise.advice.alike.compare import PARTNERS, Compared, compare, in_common
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.paint import Paint
from tubewise.pigments.purpose import PRACTICE, Purpose, purpose_typed
from tubewise.web.holdings import Holdings
from tubewise.web.questions import Partners, PurposeText
from tubewise.web.render import counter_of, page

router = APIRouter()

MOST = 4
# Partners offered by a tick: what a painter mixes with most often.
OFFERED = ("PB29", "PY74", "PBr7/burnt-sienna", "PB15:3", "PR122", "PY43", "PBk9", "PG7")
Terms = Annotated[list[str], Query(default_factory=list, max_length=8)]


@dataclass(frozen=True, slots=True)
class Row:
    """One situation: a colour for each paint, and words for each but the first."""

    situation: str
    colours: tuple[Colour, ...]
    words: tuple[str, ...]
    delta_e00: tuple[float, ...]


def rows_of(answers: tuple[Compared, ...]) -> tuple[Row, ...]:
    """The comparisons of several paints with one, situation by situation."""
    rows = []
    for together in in_common(answers):
        first = together[0]
        parts = f" ({first.parts})" if first.parts and "tint" not in first.situation else ""
        rows.append(
            Row(
                first.situation + parts,
                (first.a, *(d.b for d in together)),
                tuple(d.words for d in together),
                tuple(d.delta_e00 for d in together),
            )
        )
    return tuple(rows)


def compared(
    holdings: Holdings, a: str, b: str, partners: tuple[str, ...], purpose: Purpose = PRACTICE
) -> Compared:
    """One comparison, worked out once."""
    return holdings.remember(
        ("compare", a, b, partners, purpose),
        lambda: compare(a, b, holdings.shelf, partners, purpose=purpose),
    )


def _known(terms: Sequence[str], holdings: Holdings) -> tuple[list[tuple[str, Paint]], list[str]]:
    """The paints that terms name, and what to say of terms that name none."""
    paints: list[tuple[str, Paint]] = []
    faults = []
    for term in terms:
        try:
            paints.append((term, holdings.shelf.term(term)))
        except UserError as error:
            if error.instead:
                # Which of several is meant is asked before anything is compared.
                raise
            faults.append(f"{error.where.strip('“”') or term}: {error.message}")
    return paints, faults


def _warnings(answers: tuple[Compared, ...]) -> tuple[tuple[str, str], ...]:
    """What is known against each paint, with its name, each once."""
    sides = [pair for a in answers for pair in zip((a.a, a.b), a.warnings, strict=True)]
    return tuple(dict.fromkeys((name, words) for name, words in sides if words))


@router.get("/side-by-side")
def side_by_side(
    request: Request,
    t: Terms,
    with_: Partners,
    for_: PurposeText = "",
) -> Response:
    """Two to four tubes or pigments, alone, thin, tinted and mixed with the partners chosen."""
    holdings = counter_of(request).holdings()
    terms = tuple(dict.fromkeys(term.strip() for term in t if term.strip()))
    if len(terms) > MOST:
        raise UserError(f"At most {MOST} paints fit side by side; take some away.")
    purpose = purpose_typed(for_)
    partners = tuple(dict.fromkeys(w.strip() for w in with_ if w.strip()))
    paints, faults = _known(terms, holdings)
    for partner in partners:
        holdings.shelf.term(partner)
    answers: tuple[Compared, ...] = ()
    if len(paints) > 1:
        first = paints[0][0]
        answers = tuple(
            compared(holdings, first, term, partners, purpose) for term, _ in paints[1:]
        )
    looks = [
        Colour.of(holdings.shelf.setting_for(paint).lab_alone(paint)[0]) for _, paint in paints
    ]
    kept = [*(("with", p) for p in partners), *([("for", for_.strip())] if for_.strip() else [])]
    return page(
        request,
        "side.html",
        here="side",
        revision=holdings.revision,
        holdings=holdings,
        terms=[term for term, _ in paints],
        paints=[paint for _, paint in paints],
        looks=looks,
        strips=[holdings.strip_of(paint) for _, paint in paints],
        answers=answers,
        warnings=_warnings(answers),
        paint_for=for_.strip(),
        rows=rows_of(answers) if answers else (),
        partners=partners,
        usual=PARTNERS,
        offered=(*OFFERED, *(p for p in partners if p not in OFFERED)),
        faults=faults,
        curves=[
            (f"{n}", look.hex, WAVELENGTHS_NM, holdings.shelf.setting_for(paint).reads_alone(paint))
            for n, ((_, paint), look) in enumerate(zip(paints, looks, strict=True), 1)
        ],
        points=[(p.name, look.hex, look.lab) for (_, p), look in zip(paints, looks, strict=True)],
        most=MOST,
        pairs=[*(("t", term) for term, _ in paints), *kept],
        pairs_without=[
            [*(("t", other) for other, _ in paints if other != term), *kept] for term, _ in paints
        ],
    )
