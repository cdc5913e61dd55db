"""`tubewise serve`: the web app on this machine, or on the local network with an access code."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from socket import socket

LOOPBACK = ("127.0.0.1", "localhost", "::1")


def serve(
    host: Annotated[
        str, typer.Option(help="Where to listen; 0.0.0.0 for everyone on the network.")
    ] = "127.0.0.1",
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="The port; 0 takes a free one.")
    ] = 8000,
    code: Annotated[
        str,
        typer.Option(
            envvar="TUBEWISE_CODE",
            help="The access code for changes on a network; made up when none is given.",
        ),
    ] = "",
    name: Annotated[
        str,
        typer.Option(
            help="The name that a reverse proxy on this machine serves it under; changes then need "
            "the access code."
        ),
    ] = "",
    open_browser: Annotated[
        bool, typer.Option("--open", help="Open the first page in the browser.")
    ] = False,
) -> None:
    """Serve the pages. Only this machine sees them unless --host says otherwise."""
    import logging

    from tubewise.store.database import default_url
    from tubewise.store.health import refuse_damaged
    from tubewise.store.store import Store
    from tubewise.web.app import application
    from tubewise.web.door import LOOPBACK as OWN_NAMES

    own = host in LOOPBACK and not name
    code = "" if own else _network_code(code)
    refuse_damaged(default_url())
    listener = _listener(host, port)
    logging.basicConfig(format="%(name)s: %(message)s")
    with Store() as store:
        known = OWN_NAMES | ({name.casefold()} if name else set())
        names = known if own or name else frozenset[str]()
        app = application(store, code, names, warm=True, apart=True)
        address = f"http://{_name_to_show(host)}:{listener.getsockname()[1]}/"
        typer.echo(f"tubewise is at {address} (Ctrl-C ends it)")
        if not own:
            readers = f"who comes to {name}" if name else "on the network"
            typer.echo(f"Everyone {readers} may read. Access code for changes: {code}")
        if open_browser:
            import webbrowser

            webbrowser.open(address)
        _run(app, listener)


def _run(app: Any, listener: socket) -> None:
    import uvicorn

    from tubewise.web.connections import BoundedConnection

    config = uvicorn.Config(
        app,
        http=BoundedConnection,
        ws="none",
        log_level="warning",
        access_log=False,
        server_header=False,
    )
    uvicorn.Server(config).run(sockets=[listener])


def _network_code(code: str) -> str:
    """The code that changes need on a network; made up where none is given."""
    from tubewise.errors import UserError
    from tubewise.web.access import new_code

    if not code:
        return new_code()
    if sum(c.isalnum() for c in code) < 8:
        raise UserError("An access code needs eight letters or figures at least.", where="--code")
    return code


def _listener(host: str, port: int) -> socket:
    """A socket that listens there already. Raises UserError where it can't."""
    import socket as sockets

    from tubewise.errors import UserError

    family = sockets.AF_INET6 if ":" in host else sockets.AF_INET
    # Named TCP, its connections send at once; otherwise each answer waits some 40 ms to be joined.
    listener = sockets.socket(family, sockets.SOCK_STREAM, sockets.IPPROTO_TCP)
    listener.setsockopt(sockets.SOL_SOCKET, sockets.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
        # Whoever reads the address may come before the server is ready, and waits for it.
        listener.listen(128)
    except OSError as error:
        listener.close()
        raise UserError(
            f"The server can't listen there ({error.strerror}); choose another --port or --host.",
            where=f"{host}:{port}",
        ) from None
    return listener


def _name_to_show(host: str) -> str:
    """The host as a browser takes it: an address that means all is shown as this machine's name."""
    import socket as sockets

    if host in ("0.0.0.0", "::"):  # nosec B104 # only shown
        return sockets.gethostname()
    return f"[{host}]" if ":" in host else host
