"""Serve the page: bind, make the one-time address, print it, and answer until stopped."""

from __future__ import annotations

import gc
import ipaddress
import os
import secrets
import socket
import sys
import threading
import webbrowser
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, cast

from hatchwright.errors import EntryError
from hatchwright.said import said
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell
from hatchwright.workflow.open_job import own_tables

if TYPE_CHECKING:
    import uvicorn

    from hatchwright.web.handler import App
    from hatchwright.web.site import Site

SETTINGS = "hatchwright.web.settings"

_OBJECTS_BEFORE_SEARCH = 20_000


def serve(
    folder: Path,
    job: str | None = None,
    host: str = "127.0.0.1",
    port: int = 0,
    *,
    shop: Path | None = None,
    opens_browser: bool = False,
    until_input_closes: bool = False,
) -> None:
    """Show the jobs of a folder until stopped; prints the address to open.

    Args:
        job: file name of the job to open first, None for the list.
        host: loopback address of this machine.
        port: to listen at, 0 for a free one.
        until_input_closes: whether to stop when the standard input closes.
    Raises:
        EntryError: no such folder, no such job in it, an address beyond this machine, or a port in use.
        TableError: a table of the shop is refused, with file, line and reason; nothing is served then.
    """
    import uvicorn

    _check(folder, job, host)
    own = own_tables(shop)
    listener = _listener(host, port)
    shown = f"[{host}]" if ":" in host else host
    app, site = application(folder, job or "", hosts=[shown], shop=own)
    address = f"http://{shown}:{listener.getsockname()[1]}/enter/{site.tokens.issue()}"
    print(tell(said("command.run.address", address=address)), flush=True)
    if opens_browser:
        webbrowser.open(address)
    config = uvicorn.Config(
        app,
        log_level="error",
        access_log=False,
        server_header=False,
        lifespan="off",
        timeout_graceful_shutdown=2,
    )
    gc.freeze()  # what was loaded stays: no drawing waits while it is searched for garbage
    gc.set_threshold(_OBJECTS_BEFORE_SEARCH)
    server = uvicorn.Server(config)
    if until_input_closes:
        threading.Thread(target=_stop_when_input_closes, args=(server,), daemon=True).start()
    with listener:
        server.run(sockets=[listener])


def _stop_when_input_closes(server: uvicorn.Server) -> None:
    while os.read(sys.stdin.fileno(), 1024):
        pass  # what is typed means nothing here
    server.should_exit = True


def application(
    folder: Path, job: str = "", *, hosts: list[str] | None = None, shop: ShopTables | None = None
) -> tuple[App, Site]:
    """The application for one folder of jobs.

    Args:
        job: file name of the job that stands first, "" for the example.
        hosts: names of this machine that a browser may ask for.
    Returns:
        tuple: Django behind the limit on bodies, and the value that its requests carry.
    """
    os.environ["DJANGO_SETTINGS_MODULE"] = SETTINGS
    from django.conf import settings

    from hatchwright.web.handler import BodyLimit, PageHandler
    from hatchwright.web.server import kept_key
    from hatchwright.web.site import Site
    from hatchwright.workflow.job_folder import JobFolder

    settings.SECRET_KEY = kept_key() or settings.SECRET_KEY
    if hosts:
        settings.ALLOWED_HOSTS = hosts
    jobs = JobFolder(folder)
    jobs.sweep_up()
    site = Site(jobs, job, shop)
    return BodyLimit(cast("App", PageHandler(site))), site


def _check(folder: Path, job: str | None, host: str) -> None:
    if not folder.is_dir():
        raise EntryError.saying("command.serve.no_folder", where=str(folder))
    if job is not None and not (folder / job).is_file():
        raise EntryError.saying("command.serve.no_job", where=job, folder=str(folder))
    with suppress(ValueError):
        if ipaddress.ip_address(host).is_loopback:
            return
    raise EntryError.saying("command.serve.not_here", where=host)


def _listener(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listener = socket.socket(family, socket.SOCK_STREAM)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    # The body of an answer follows its head at once, instead of after the 40 ms in which nobody acknowledges the head.
    listener.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    try:
        listener.bind((host, port))
        listener.listen()  # from now on a browser that is quicker than the program waits instead of being refused
    except OSError as error:
        listener.close()
        reason = error.strerror or ""
        raise EntryError.saying(
            "command.serve.port_taken", where=host, port=str(port), reason=reason
        ) from None
    return listener


_LEAST_CHARACTERS = 50


def kept_key() -> str:
    """The key of this user on this machine, made at the first start; "" where nothing can be kept."""
    state = Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state")
    place = state / "hatchwright" / "session-key"
    try:
        place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with suppress(FileExistsError):
            handle = os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(handle, "w", encoding="ascii") as out:
                out.write(secrets.token_urlsafe(64))
        key = place.read_text(encoding="ascii").strip()
    except (OSError, ValueError):
        return ""
    return key if len(key) >= _LEAST_CHARACTERS else ""
