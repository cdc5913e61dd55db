"""`tubewise serve`: the web app on this machine, or on the local network with an access code."""

from __future__ import annotations

from typing import Annotated

import typer

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
    open_browser: Annotated[
        bool, typer.Option("--open", help="Open the first page in the browser.")
    ] = False,
) -> None:
    """Serve the pages. Only this machine sees them unless --host says otherwise."""
    import logging
    import socket

    import uvicorn

    from tubewise.errors import UserError
    from tubewise.store.store import Store
    from tubewise.web.access import new_code
    from tubewise.web.app import application
    from tubewise.web.door import LOOPBACK as OWN_NAMES

    own = host in LOOPBACK
    if not own and not code:
        code = new_code()
    if not own and len("".join(c for c in code if c.isalnum())) < 8:
        raise UserError("An access code needs eight letters or figures at least.", where="--code")
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # Named TCP, its connections send at once; otherwise each answer waits some 40 ms to be joined.
    listener = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
        # Who is told the address may come before the server is ready, and waits for it.
        listener.listen(128)
    except OSError as error:
        listener.close()
        raise UserError(
            f"The server can't listen there ({error.strerror}); choose another --port or --host.",
            where=f"{host}:{port}",
        ) from None
    logging.basicConfig(format="%(name)s: %(message)s")
    with Store() as store:
        app = application(store, "" if own else code, OWN_NAMES if own else frozenset(), warm=True)
        shown = f"[{host}]" if ":" in host else host
        if not own and host in ("0.0.0.0", "::"):
            shown = socket.gethostname()
        address = f"http://{shown}:{listener.getsockname()[1]}/"
        typer.echo(f"tubewise is at {address} (Ctrl-C ends it)")
        if not own:
            typer.echo(f"Everyone on the network may read. Access code for changes: {code}")
        if open_browser:
            import webbrowser

            webbrowser.open(address)
        config = uvicorn.Config(app, log_level="warning", access_log=False, server_header=False)
        uvicorn.Server(config).run(sockets=[listener])
