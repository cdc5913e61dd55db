"""Nobody keeps the server's connections open with requests that never end."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from contextlib import asynccontextmanager
from typing import Any

import pytest
import uvicorn

from tubewise import limits
from tubewise.web.connections import BoundedConnection

SLOW_HEAD = b"POST /x HTTP/1.1\r\nhost: 127.0.0.1\r\n"
SLOW_BODY = SLOW_HEAD + b"content-length: 1000\r\n\r\nname="


async def app(scope: Any, receive: Any, send: Any) -> None:
    """Reads a body, then answers."""
    while (message := await receive())["type"] == "http.request" and message.get("more_body"):
        pass
    if message["type"] == "http.disconnect":
        return
    await send({"type": "http.response.start", "status": 200, "headers": [(b"x", b"y")]})
    body = b"x" * (50_000_000 if scope["path"] == "/long" else 5)
    await send({"type": "http.response.body", "body": body})


@asynccontextmanager
async def served() -> Any:
    config = uvicorn.Config(
        app, http=BoundedConnection, ws="none", port=0, log_level="critical", lifespan="off"
    )
    server = uvicorn.Server(config)
    task = asyncio.create_task(server.serve())
    while not server.started:
        await asyncio.sleep(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    try:
        yield port
    finally:
        server.should_exit = True
        server.force_exit = True
        await task


async def answer_to(port: int, *sent: bytes) -> bytes:
    """What comes back before the server closes, or a second after it has answered."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    for part in sent:
        writer.write(part)
        await asyncio.sleep(0.05)
    try:
        return await asyncio.wait_for(reader.read(), 20)
    finally:
        writer.close()


def run(work: Callable[[int], Awaitable[None]]) -> None:
    async def whole() -> None:
        async with served() as port:
            await work(port)

    asyncio.run(whole())


@pytest.fixture(autouse=True)
def short(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "HEADER_SECONDS", 0.5)
    monkeypatch.setattr(limits, "BODY_SECONDS", 0.5)
    monkeypatch.setattr(limits, "UNREAD_SECONDS", 0.5)
    monkeypatch.setattr("tubewise.web.connections._LOOK_EVERY_S", 0.1)


def test_connections_that_say_nothing_or_never_end_are_closed() -> None:
    async def work(port: int) -> None:
        found = await asyncio.gather(
            *[answer_to(port, part) for part in [b"", SLOW_HEAD, SLOW_BODY] * 30],
            # One byte at a time is no progress.
            answer_to(port, SLOW_BODY, *[b"x"] * 5),
        )
        assert all(b"408 Request Timeout" in answer for answer in found)

    run(work)


def test_a_second_request_on_a_connection_is_held_to_the_same() -> None:
    async def work(port: int) -> None:
        whole = b"GET / HTTP/1.1\r\nhost: 127.0.0.1\r\n\r\n"
        answer = await answer_to(port, whole, SLOW_HEAD)
        assert answer.startswith(b"HTTP/1.1 200") and answer.count(b"xxxxx") == 1

    run(work)


def test_a_large_body_that_comes_steadily_is_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "BODY_BYTES_A_SECOND", 1000)
    head = SLOW_HEAD + b"content-length: 8000\r\nconnection: close\r\n\r\n"

    async def work(port: int) -> None:
        assert b" 200 " in await answer_to(port, head, *[b"x" * 400] * 20)

    run(work)


def test_more_connections_than_the_most_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "MOST_CONNECTIONS", 3)

    async def work(port: int) -> None:
        found = await asyncio.gather(*[answer_to(port, SLOW_HEAD) for _ in range(5)])
        assert sorted(answer[9:12] for answer in found) == [b"408"] * 3 + [b"503"] * 2
        assert b" 408 " in await answer_to(port, SLOW_HEAD)

    run(work)


def test_one_address_elsewhere_gets_no_more_than_its_share(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "MOST_FROM_ONE_PLACE", 2)
    monkeypatch.setattr("tubewise.web.connections.is_own", lambda _: False)

    async def work(port: int) -> None:
        found = await asyncio.gather(*[answer_to(port, SLOW_HEAD) for _ in range(3)])
        assert sorted(answer[9:12] for answer in found) == [b"408", b"408", b"503"]

    run(work)


def test_an_answer_that_nobody_takes_is_given_up() -> None:
    async def work(port: int) -> None:
        reader, writer = await asyncio.open_connection("127.0.0.1", port, limit=1000)
        writer.write(b"GET /long HTTP/1.1\r\nhost: 127.0.0.1\r\n\r\n")
        await asyncio.sleep(2)
        with pytest.raises((asyncio.IncompleteReadError, ConnectionResetError)):
            await reader.readexactly(50_000_000)
        writer.close()

    run(work)
