"""Pages out of templates, with what every page needs."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from importlib.resources import files
from typing import Any
from urllib.parse import quote, urlencode

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined, pass_context
from jinja2.runtime import Context

from tubewise.advice.recipes.results import left_out_words
from tubewise.advice.words.lists import counted
from tubewise.advice.words.permanence import permanence_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text, tube_price_per_ml, unit_price_text
from tubewise.advice.words.size import size_text
from tubewise.search.compiled import SECONDS as COMPILING_SECONDS
from tubewise.sheets.signs import SIGNS, sign_of
from tubewise.tubes.seat_title import seat_title
from tubewise.web import drawing
from tubewise.web.access import TOKEN_HERE
from tubewise.web.counter import Counter
from tubewise.web.door import REMEMBER

MENU = (
    ("tubes", "Tubes", "/tubes"),
    ("pigments", "Pigments", "/pigments"),
    ("instead", "Sold out?", "/instead"),
    ("side", "Side by side", "/side-by-side"),
    ("mixing", "Mixing", "/mixing"),
    ("which", "Which tubes", "/which-tubes"),
    ("class", "Class", "/class"),
    ("box", "My box", "/box"),
)
# What is asked less often stands at the foot of every page.
MORE = (
    ("label", "Read a label", "/label"),
    ("names", "Names that mislead", "/names"),
    ("photographs", "Photographs", "/photographs"),
    ("measurements", "Measurements", "/measurements"),
)


@pass_context
def _size(context: Context, ml: float | None) -> str:
    return size_text(ml, context["units"])


@pass_context
def _unit_price(context: Context, tube: Any) -> str:
    return unit_price_text(tube_price_per_ml(tube), tube.currency, context["units"])


@pass_context
def _by_volume(context: Context, per_ml: float | None, currency: str) -> str:
    return unit_price_text(per_ml, currency, context["units"])


@lru_cache(maxsize=1)
def version_of_static() -> str:
    """A short digest of the style and scripts, so that a browser may keep them."""
    digest = hashlib.sha256()
    for file in sorted(files("tubewise.web").joinpath("static").iterdir(), key=lambda f: f.name):
        digest.update(file.read_bytes())
    return digest.hexdigest()[:10]


@lru_cache(maxsize=1)
def environment() -> Environment:
    """The templates; everything put into them is escaped."""
    env = Environment(
        loader=PackageLoader("tubewise.web", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.globals.update(
        menu=MENU,
        more=MORE,
        signs=SIGNS,
        sign_of=sign_of,
        form_token=TOKEN_HERE,
        static=version_of_static(),
        strip=drawing.strip_svg,
        swatch=drawing.swatch_svg,
        tile=drawing.tile_svg,
        row=drawing.row_svg,
        spectra=drawing.spectra_svg,
        plane=drawing.plane_svg,
        marked=drawing.marked,
        counted=counted,
    )
    env.filters.update(
        size=_size,
        unit_price=_unit_price,
        by_volume=_by_volume,
        permanence=permanence_text,
        pigments=pigments_text,
        money=price_text,
        left_out=left_out_words,
        price=lambda tube: price_text(tube.price, tube.currency),
        first_up=lambda text: text[:1].upper() + text[1:],
        seat_title=seat_title,
        slug=lambda text: "-".join(text.split()),
        path=lambda text: quote(text, safe=""),
        query=lambda pairs: urlencode(list(pairs.items() if isinstance(pairs, dict) else pairs)),
    )
    return env


def counter_of(request: Request) -> Counter:
    """Where this server's pages ask."""
    counter: Counter = request.app.state.counter
    return counter


def _own_address(raw_path: bytes) -> str:
    """The path as it was asked for, never the name of another host."""
    return "/" + raw_path.decode("latin-1").lstrip("/\\")


def page(
    request: Request,
    template: str,
    *,
    here: str,
    status: int = 200,
    revision: int | None = None,
    **context: Any,
) -> HTMLResponse:
    """A drawn page. `here` is its place in the menu.

    With `revision` the page is kept for whoever asks for the same address until the store changes.
    """
    scope = request.scope
    query = scope.get("tubewise.query", scope["query_string"].decode("latin-1"))
    text = (
        environment()
        .get_template(template)
        .render(
            here=here,
            units=scope.get("tubewise.units", "metric"),
            look=scope.get("tubewise.look", "auto"),
            may_change=scope.get("tubewise.may_change", True),
            has_code=bool(request.app.state.access.code),
            address=_own_address(scope["raw_path"]) + (f"?{query}" if query else ""),
            join="&" if query else "?",
            **context,
        )
    )
    headers = {}
    if revision is not None and status == 200:
        headers[REMEMBER.decode("ascii")] = str(revision)
    return HTMLResponse(text, status, headers)


def waiting_page(
    request: Request,
    *,
    here: str,
    title: str,
    done: int = 0,
    every: int = 0,
    of_what: str = "seat",
) -> HTMLResponse:
    """A page for an answer that is at work; it asks again by itself, with scripts or without.

    `done` of `every` seats, or `of_what`, are done so far; `every` is 0 before the first is begun.
    """
    answer = page(
        request,
        "waiting.html",
        here=here,
        title=title,
        done=done,
        every=every,
        of_what=of_what,
        compiling=counter_of(request).is_compiling,
        seconds=COMPILING_SECONDS,
    )
    answer.headers["refresh"] = "1"
    answer.headers["cache-control"] = "no-store"
    return answer
