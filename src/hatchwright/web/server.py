"""Serve the page: bind, make the one-time address, print it, and answer until stopped."""

from __future__ import annotations

import ipaddress
import os
import socket
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, cast

from hatchwright.errors import EntryError
from hatchwright.said import said
from hatchwright.web.browser import open_in_browser, sees_a_browser
from hatchwright.web.place import place_of
from hatchwright.web.tokens import Tokens
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    import uvicorn

    from hatchwright.tables.table import ShopTables
    from hatchwright.web.place import App
    from hatchwright.web.site import Site
    from hatchwright.web.staff import Staff

SETTINGS = "hatchwright.web.settings"
SESSION, FORM_TOKEN = "hatchwright_session", "hatchwright_csrf"
"""Names of the cookies."""


def serve(
    folder: Path,
    job: str | None = None,
    host: str = "127.0.0.1",
    port: int | None = None,
    *,
    shop: Path | None = None,
    opens_browser: bool = False,
    until_input_closes: bool = False,
) -> None:
    """Show the jobs of a folder until stopped; prints the address to open, and a new one at each Enter.

    Args:
        job: file name of the job to open first, None for the list.
        host: loopback address of this machine.
        port: to listen at, 0 for a free one; None for the one of this folder, or a free one when that is taken.
        opens_browser: whether to open each address too, where there is a browser that a person sees.
        until_input_closes: whether to heed the standard input: stop when it closes, a new address when Enter is typed.
    Raises:
        EntryError: no such folder, no such job in it, an address beyond this machine, or a port in use.
        TableError: a table of the shop is refused, with file, line and reason; nothing is served then.
    """
    _check(folder, job, host)
    own = own_tables_of(shop)
    listener = listener_at(host, port) if port is not None else _usual_listener(host, folder)
    shown = f"[{host}]" if ":" in host else host
    taken = listener.getsockname()[1]
    place, tokens = place_of(taken), Tokens()
    opens_browser = opens_browser and sees_a_browser()

    def new_address() -> None:
        address = f"http://{shown}:{taken}{place}/enter/{tokens.issue()}"
        id = "command.run.opened" if opens_browser else "command.run.address"
        print(tell(said(id, address=address)), flush=True)
        if opens_browser:
            open_in_browser(address)

    new_address()  # all that takes long comes after it, while a person or a browser comes to it
    if until_input_closes:
        print(tell(said("command.run.another")), flush=True)
    app, _ = application(folder, job or "", hosts=[shown], shop=own, place=place, tokens=tokens)

    from hatchwright.web.answering import server_of  # once Django has its settings

    server = server_of(app)
    if until_input_closes:
        threading.Thread(target=heed_input, args=(server, new_address), daemon=True).start()
    with listener:
        server.run(sockets=[listener])


def heed_input(server: uvicorn.Server, at_enter: Callable[[], None]) -> None:
    """Do something at each Enter, and end the server when the standard input closes."""
    while os.read(sys.stdin.fileno(), 1024):
        at_enter()
    server.should_exit = True


def application(
    folder: Path,
    job: str = "",
    *,
    hosts: list[str] | None = None,
    shop: ShopTables | None = None,
    place: str = "",
    tokens: Tokens | None = None,
    staff: Staff | None = None,
) -> tuple[App, Site]:
    """The application for one folder of jobs.

    Args:
        job: file name of the job that stands first, "" for the example.
        hosts: names of this machine that a browser may ask for.
        place: path below which all is served, see `place.place_of`; "" without.
        tokens: of the addresses that let a browser in, None for ones of its own.
        staff: who may come in by name, over TLS alone; None for one person on one's own computer.
    Returns:
        tuple: Django behind the limit on bodies and below its place, and the value that its requests carry.
    """
    os.environ["DJANGO_SETTINGS_MODULE"] = SETTINGS
    from django.conf import settings

    from hatchwright.web.handler import BodyLimit, PageHandler
    from hatchwright.web.place import BelowPlace
    from hatchwright.web.site import Site
    from hatchwright.workflow.job_folder import JobFolder

    # A cookie with this prefix comes over TLS from this very host, or the browser drops it.
    prefix, is_secure = ("__Host-", True) if staff else ("", False)
    settings.SESSION_COOKIE_NAME, settings.CSRF_COOKIE_NAME = f"{prefix}{SESSION}", f"{prefix}{FORM_TOKEN}"
    settings.SESSION_COOKIE_SECURE = settings.CSRF_COOKIE_SECURE = is_secure
    settings.SESSION_COOKIE_PATH = settings.CSRF_COOKIE_PATH = f"{place}/"
    if hosts:
        settings.ALLOWED_HOSTS = hosts
    jobs = JobFolder(folder)
    jobs.sweep_up()
    site = Site(jobs, job, shop, tokens or Tokens(), staff)
    app: App = BodyLimit(cast("App", PageHandler(site)))
    return (BelowPlace(app, place) if place else app), site


def own_tables_of(shop: Path | None) -> ShopTables | None:
    """The shop's own tables, None without.

    Raises:
        TableError: a table is refused, with file, line and reason.
    """
    if shop is None:
        return None
    from hatchwright.workflow.open_job import own_tables

    return own_tables(shop)


def _check(folder: Path, job: str | None, host: str) -> None:
    refuse_no_folder(folder)
    if job is not None and not (folder / job).is_file():
        raise EntryError.saying("command.serve.no_job", where=job, folder=str(folder))
    with suppress(ValueError):
        if ipaddress.ip_address(host).is_loopback:
            return
    raise EntryError.saying("command.serve.not_here", where=host)


def refuse_no_folder(folder: Path) -> None:
    """EntryError where there is no such folder."""
    if not folder.is_dir():
        raise EntryError.saying("command.serve.no_folder", where=str(folder))


_FIRST_DYNAMIC, _DYNAMIC = 49152, 16384
"""Ports for whoever wants one. Source: RFC 6335, section 6."""


def _usual_listener(host: str, folder: Path) -> socket.socket:
    """At the port of a folder, the same at each start, so that a page which was left open can go on."""
    digest = sha256(os.fsencode(folder.resolve())).digest()
    try:
        return listener_at(host, _FIRST_DYNAMIC + int.from_bytes(digest[:4], "big") % _DYNAMIC)
    except EntryError:
        return listener_at(host, 0)


def listener_at(host: str, port: int) -> socket.socket:
    """A socket that listens, port 0 for a free one.

    Raises:
        EntryError: the port or the address is not available.
    """
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
