"""Open a job in the browser: find an address, say it, and serve until the person stops it."""

import asyncio
import os
import secrets
import socket
import sys
import webbrowser
from io import StringIO
from pathlib import Path
from threading import Thread

import typer

from beckwright.cli.tell import complain

LOOPBACK = "127.0.0.1"
EVERY_ADDRESS = "0.0.0.0"  # noqa: S104  # Only where the person asks for it, and then nobody enters without the pass.
NEW = "my_stream"
"""Where a job begun from nothing goes."""
NOWHERE = ("192.0.2.1", 9)
"""An address kept free for documents (RFC 5737). Nothing is sent: only the way out is asked for."""


def folder_meant(named: Path | None) -> Path:
    """The folder somebody named; else the one they stand in where it is a job, or one in it that is not there yet."""
    here = Path() if named is None else named
    if named is not None or (here / "job.toml").is_file():
        return here
    places = [here / NEW, *(here / f"{NEW}_{number}" for number in range(2, 1000))]
    return next((place for place in places if not place.exists()), here)


def serve(folder: Path, *, port: int, browser: bool, lan: bool) -> bool:
    """Serve the job until it is stopped. False, said on stderr, where that cannot begin."""
    import uvicorn

    from beckwright.beside import FOR_FILMS, Beside
    from beckwright.web.app import THIS_MACHINE, make_app
    from beckwright.web.begin.first import First
    from beckwright.web.warm import warm

    is_job = (folder / "job.toml").is_file()
    if not is_job and not _empty(folder):
        complain(
            f"{folder} is no job: it has no job.toml, and is not empty. Begin one with: beckwright new {folder}; "
            "or open an empty folder, and the first visit begins one."
        )
        return False
    door = _door(EVERY_ADDRESS if lan else LOOPBACK, port)
    if door is None:
        return False
    with door, Beside(1, libraries=FOR_FILMS, patient=True) as beside:
        token = secrets.token_urlsafe(24) if lan else None
        address = _address() if lan else LOOPBACK
        hosts = (*THIS_MACHINE, address)
        outside = _link(address, port, None) if lan else None
        job = make_app(folder, token=token, hosts=hosts, address=outside, beside=beside) if is_job else None
        here = _link(LOOPBACK, port, token)
        if browser:
            # The door is open already: a browser that comes early waits at it.
            Thread(target=webbrowser.open, args=(here,), daemon=True).start()
        name = folder.resolve().name
        if job is not None:
            if sys.stderr.isatty():
                typer.echo(f"Designing {name} ...", err=True)
            asyncio.run(warm(job, token))
        opened = f"{name} lies open" if is_job else f"{name} holds no job yet. The first visit lies open"
        typer.echo(f"{opened} at {here}\nStop with Ctrl-C; everything is kept as you go.")
        if lan:
            typer.echo(_for_the_slope(_link(address, port, token)))
        app = job or First(folder, token=token, hosts=hosts, beside=beside)
        config = uvicorn.Config(app, log_level="error", access_log=False, server_header=False)
        uvicorn.Server(config).run(sockets=[door])
    return True


def _empty(folder: Path) -> bool:
    """Whether a folder is not there yet, or holds nothing."""
    return not folder.exists() or (folder.is_dir() and not any(folder.iterdir()))


def _door(host: str, port: int) -> socket.socket | None:
    # Named as TCP: only then does the server send small answers at once instead of waiting for more to say (40 ms).
    door = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if os.name == "posix":  # Elsewhere it would let two programs have one port.
            door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        door.bind((host, port))
        door.listen()
    except OSError as error:
        door.close()
        complain(f"Port {port} cannot be had ({error.strerror}). Choose another: --port {port + 1}")
        return None
    return door


def _address() -> str:
    """This machine's address in its own network; the loopback's where it is in none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(NOWHERE)
        except OSError:
            return LOOPBACK
        return str(asked.getsockname()[0])


def _link(address: str, port: int, token: str | None) -> str:
    return f"http://{address}:{port}/" + (f"enter?word={token}" if token else "")


def _for_the_slope(link: str) -> str:
    """The code a telephone scans, and the same in letters."""
    import segno

    drawn = StringIO()
    segno.make(link, micro=False).terminal(out=drawn, compact=True, border=2)
    words = "For the telephone on the slope, in the same Wi-Fi. Whoever has this code can change the job."
    return f"\n{words}\n{drawn.getvalue()}{link}"
