"""What every request passes through: hosts, sizes, cookies, kept pages and safe headers."""

from __future__ import annotations

import asyncio
import logging
import time
from collections.abc import Awaitable, Callable, MutableMapping
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

from tubewise import limits
from tubewise.limits import MAX_ADDRESS, MAX_BODY, MOST_PHOTOGRAPHS_SENT
from tubewise.web.access import TOKEN_HERE, VISITOR, Access, new_visitor
from tubewise.web.counter import SEEN, Counter
from tubewise.web.holdings import Holdings
from tubewise.web.remembered import RememberedPages
from tubewise.web.works import ASKER, COMES_BACK, Asker, NotYetError, Work

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

log = logging.getLogger("tubewise.web")

TAKE_PICTURES = ("/photographs", "/which-tubes/picture")
# Marks a page that stays as it is until the store changes.
REMEMBER = b"x-tubewise-remember"
# Where in a request's scope it is left that its answer is still being worked out.
NOT_YET = "tubewise.not_yet"
# So many long answers may stand behind a page, one after the other.
_MOST_RETURNS = 8
LOOPBACK = frozenset({"127.0.0.1", "localhost", "[::1]"})

UNITS = ("metric", "us")
LOOKS = ("auto", "light", "grey", "dark")
_CHOICES = {"units": UNITS, "look": LOOKS}

SAFE_HEADERS = (
    (
        b"content-security-policy",
        b"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
        b"font-src 'self'; connect-src 'self'; form-action 'self'; frame-ancestors 'none'; "
        b"base-uri 'none'; object-src 'none'",
    ),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), geolocation=(), microphone=()"),
)


class TooLargeError(Exception):
    """A request's body is larger than any of ours."""


class Door:
    """The outermost layer. `hosts` are the names we answer to; empty means any."""

    def __init__(
        self, app: App, counter: Counter, access: Access, hosts: frozenset[str] = LOOPBACK
    ) -> None:
        self._app = app
        self._counter = counter
        self._access = access
        self._hosts = hosts
        self._pages = RememberedPages(48 * 2**20)
        self._looking = False

    def close(self) -> None:
        """End what works behind it."""
        self._counter.workroom.close()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request in, or answer it at the door."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        if scope["scheme"] == "https":  # as a reverse proxy on this machine tells
            send = _secured(send)
        headers = dict(scope["headers"])
        fault = self._fault(scope, headers)
        if fault is not None:
            await _plain(send, *fault)
            return
        cookies = _cookies(headers.get(b"cookie", b""))
        visitor = cookies.get(VISITOR, "")
        chosen = _chosen(scope, cookies)
        for name in _CHOICES:
            scope[f"tubewise.{name}"] = chosen[name]
        scope["tubewise.visitor"] = visitor
        entered = scope["tubewise.may_change"] = self._access.may_change(visitor)
        setting = [
            _cookie(name, chosen[name], 31_536_000)
            for name in _CHOICES
            if chosen.get(f"new {name}")
        ]
        if scope["method"] in ("GET", "HEAD") and not visitor and _wants_page(headers):
            visitor = scope["tubewise.visitor"] = new_visitor()
            setting.append(_cookie(VISITOR, visitor, None))
        key = (scope["path"], scope["query_string"], *(chosen[n] for n in _CHOICES), entered)
        revision = await self._revision() if scope["method"] == "GET" else None
        if revision is not None:
            kept = self._pages.get((revision, key))
            if kept is not None:
                await self._send(send, 200, list(kept[1]), kept[0], visitor, setting)
                return
        body = _Body(receive, most_body(scope["path"]))
        answer = await self._answered(scope, body, send, _asker(scope, visitor))
        if body.too_large:
            await _plain(send, 413, _too_large(scope["path"]))
            return
        if answer.start is None:
            return
        start = answer.start
        marked = [h for h in start["headers"] if h[0].lower() == REMEMBER]
        kept_headers = [h for h in start["headers"] if h[0].lower() != REMEMBER]
        if marked and start["status"] == 200 and scope["method"] == "GET":
            # The page tells of which revision it is: the store may have changed meanwhile.
            self._pages.keep((int(marked[0][1]), key), answer.body, tuple(kept_headers))
        await self._send(send, start["status"], kept_headers, answer.body, visitor, setting)

    async def _answered(self, scope: Scope, body: _Body, send: Send, asker: Asker) -> _Answer:
        """The app's answer; a page whose answer is still being worked out is asked for again.

        Meanwhile it keeps no thread. It goes on with what the store held when it was asked first.
        """
        ASKER.set(asker)
        COMES_BACK.set(scope["method"] == "GET")
        until = time.monotonic() + limits.WAIT_SECONDS
        for _ in range(_MOST_RETURNS):
            waiting: list[NotYetError] = []
            answer = _Answer(send)
            try:
                await self._app({**scope, NOT_YET: waiting}, body, answer)
            except Exception:
                # The page that tells of the fault is whole by now, and the fault is in the log.
                if answer.start is None and not body.too_large:
                    raise
            if not waiting or not await _is_over(waiting[0].work, until - time.monotonic()):
                break
            SEEN.set(waiting[0].seen)
        return answer

    async def _revision(self) -> int | None:
        """The store's revision without keeping anybody waiting, but for right after our own change.

        Whether another program has written is looked up beside, so that one reader starts it and
        none waits for it.
        """
        revision = self._counter.revision
        if revision is not None and self._counter.due and not self._looking:
            self._looking = True
            task = asyncio.create_task(asyncio.to_thread(self._counter.holdings))
            task.add_done_callback(self._looked)
        return revision

    def _looked(self, task: asyncio.Task[Holdings]) -> None:
        self._looking = False
        if not task.cancelled() and task.exception() is not None:
            log.warning("the store could not be read: %s", task.exception())

    def _fault(self, scope: Scope, headers: dict[bytes, bytes]) -> tuple[int, str] | None:
        # Not starlette's TrustedHostMiddleware: it says "Invalid host header" and no more, without
        # the safe headers, and its older versions take "[::1]:8000" apart at the first colon.
        host = headers.get(b"host", b"").decode("latin-1")
        name = host.rsplit(":", 1)[0] if not host.endswith("]") else host
        if self._hosts and name.casefold() not in self._hosts:
            return 400, "This server does not answer to that name. Use http://127.0.0.1 instead."
        if len(scope["raw_path"]) + len(scope["query_string"]) > MAX_ADDRESS:
            return 414, "This address is too long."
        length = headers.get(b"content-length", b"0")
        if not length.isdigit():
            return 400, "This request is not well formed."
        if int(length) > most_body(scope["path"]):
            return 413, _too_large(scope["path"])
        if scope["method"] not in ("GET", "HEAD", "OPTIONS"):
            origin = headers.get(b"origin", b"").decode("latin-1")
            if origin and urlsplit(origin).netloc != host:
                return 403, "A change may only come from a page of this server."
        return None

    async def _send(
        self,
        send: Send,
        status: int,
        headers: list[tuple[bytes, bytes]],
        body: bytes,
        visitor: str,
        cookies: list[tuple[bytes, bytes]],
    ) -> None:
        # Only pages have forms; what is downloaded is passed on, and must not hold a token. Who has
        # none must not see the place for it either, or could store something of that name.
        place = TOKEN_HERE.encode("ascii")
        if _is_page(headers) and place in body:
            own = self._access.token(visitor) if visitor else "-" * len(TOKEN_HERE)
            body = body.replace(place, own.encode("ascii"))
        await send(
            {
                "type": "http.response.start",
                "status": status,
                "headers": [*headers, *SAFE_HEADERS, *cookies, *_freshness(headers)],
            }
        )
        await send({"type": "http.response.body", "body": body})


def _asker(scope: Scope, visitor: str) -> Asker:
    client = scope.get("client")
    return Asker(visitor, str(client[0]) if client else "")


async def _is_over(work: Work, seconds: float) -> bool:
    """Whether a work is over before so many seconds have gone by."""
    done, _ = await asyncio.wait([asyncio.wrap_future(work.future)], timeout=max(0.0, seconds))
    for future in done:
        future.exception()  # its fault is told when the page is asked for again
    return bool(done)


def _is_page(headers: list[tuple[bytes, bytes]]) -> bool:
    """Whether what is sent is HTML."""
    kinds = [value for name, value in headers if name.lower() == b"content-type"]
    return bool(kinds) and kinds[0].startswith(b"text/html")


def most_body(path: str) -> int:
    """The most bytes that may be sent to a path."""
    return MOST_PHOTOGRAPHS_SENT if path in TAKE_PICTURES else MAX_BODY


class _Answer:
    """Holds an answer back until it is whole."""

    def __init__(self, send: Send) -> None:
        self._send = send
        self.start: Message | None = None
        self.body = b""
        self._parts: list[bytes] = []

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self.start = message
        elif message["type"] == "http.response.body":
            self._parts.append(bytes(message.get("body", b"")))
            if not message.get("more_body", False):
                self.body = b"".join(self._parts)
        else:
            await self._send(message)


def _too_large(path: str) -> str:
    most = most_body(path)
    parts = "Split the file and send its parts" if most == MAX_BODY else "Send fewer photographs,"
    return (
        f"This is larger than {most // 2**20} MB, the most that can be sent at once. "
        f"{parts} one after the other."
    )


class _Body:
    """Stops reading where a body without a stated length turns out too large."""

    def __init__(self, receive: Receive, most: int) -> None:
        self._receive = receive
        self._most = most
        self._size = 0
        self.too_large = False

    async def __call__(self) -> Message:
        message = await self._receive()
        if message["type"] == "http.request":
            self._size += len(message.get("body", b""))
            if self._size > self._most:
                self.too_large = True
                raise TooLargeError
        return message


def _wants_page(headers: dict[bytes, bytes]) -> bool:
    return b"text/html" in headers.get(b"accept", b"") or b"*/*" in headers.get(b"accept", b"")


def _cookies(text: bytes) -> dict[str, str]:
    try:
        return {k: m.value for k, m in SimpleCookie(text.decode("latin-1")).items()}
    except CookieError:
        return {}


def _cookie(name: str, value: str, seconds: int | None) -> tuple[bytes, bytes]:
    kept = f"; Max-Age={seconds}" if seconds is not None else ""
    hidden = "; HttpOnly"
    return (
        b"set-cookie",
        f"{name}={value}; Path=/; SameSite=Strict{hidden}{kept}".encode("ascii"),
    )


def _secured(send: Send) -> Send:
    """Sends cookies that no browser gives away without encryption."""

    async def secured(message: Message) -> None:
        if message["type"] == "http.response.start":
            message["headers"] = [
                (name, value + b"; Secure" if name.lower() == b"set-cookie" else value)
                for name, value in message["headers"]
            ]
        await send(message)

    return secured


def visitor_cookie(visitor: str) -> str:
    """The Set-Cookie value that names a visitor."""
    return _cookie(VISITOR, visitor, None)[1].decode("ascii")


def _chosen(scope: Scope, cookies: dict[str, str]) -> dict[str, Any]:
    """Units and look: as the address says, else as chosen before; kept when newly chosen."""
    query: bytes = scope["query_string"]
    out: dict[str, Any] = {
        name: cookies[name] if cookies.get(name) in known else known[0]
        for name, known in _CHOICES.items()
    }
    if b"units=" in query or b"look=" in query:
        parameters = parse_qsl(query.decode("latin-1"), keep_blank_values=True)
        for name, value in parameters:
            if value in _CHOICES.get(name, ()):
                out[f"new {name}"] = cookies.get(name) != value
                out[name] = value
        scope["tubewise.query"] = urlencode([p for p in parameters if p[0] not in _CHOICES])
    return out


def _freshness(headers: list[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
    if any(name.lower() == b"cache-control" for name, _ in headers):
        return []
    return [(b"cache-control", b"private, no-cache")]


async def _plain(send: Send, status: int, words: str) -> None:
    body = (
        '<!doctype html><html lang="en"><meta charset="utf-8"><title>tubewise</title>'
        f"<main><h1>That did not work</h1><p>{words}</p>"
        '<p><a href="/">Back to the start</a></p></main></html>'
    ).encode()
    headers = [
        (b"content-type", b"text/html; charset=utf-8"),
        (b"content-length", str(len(body)).encode("ascii")),
        (b"cache-control", b"no-store"),
        *SAFE_HEADERS,
    ]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
