"""The place below which all addresses lie: nobody guesses it, and each port has one of its own.

Cookies know no ports: a browser sends them to every program that listens at the same host. It sends those of a path
only where that path is asked for, so they belong to this one. The place alone opens nothing, and stays the same after a
restart, so that a page which was left open can go on.
"""

from __future__ import annotations

import base64
import hmac
import os
import secrets
from collections.abc import Awaitable, Callable, MutableMapping
from contextlib import suppress
from typing import Any

from hatchwright.said import said
from hatchwright.web.headers import HEADERS
from hatchwright.web.state_folder import state_folder
from hatchwright.words.tell import tell

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Message, Receive, Send], Awaitable[None]]

_LEAST_CHARACTERS = 50


def place_of(port: int) -> str:
    """Path of all that is served at a port, such as ``/Zl1hd2…``; the same for this user at each start."""
    digest = hmac.digest(_kept_secret().encode(), b"port %d" % port, "sha256")
    return "/" + base64.urlsafe_b64encode(digest[:18]).decode()


class BelowPlace:
    """An ASGI application that hands on what is asked for below a place, and says nothing of all else.

    Args:
        app: told by ``root_path`` where it is served, as ASGI has it.
        place: begins with a slash and ends without.
    """

    def __init__(self, app: App, place: str) -> None:
        self.app = app
        self.place = place

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Hand on, or answer 404."""
        first, _, _ = scope["path"].removeprefix("/").partition("/")
        if hmac.compare_digest(f"/{first}".encode(), self.place.encode()):
            await self.app({**scope, "root_path": self.place}, receive, send)
        else:
            await answer_plainly(send, 404, tell(said("page.closed_what_to_do")))


async def answer_plainly(send: Send, status: int, words: str) -> None:
    """Answer before Django with a line of text, the body of the request unread."""
    headers = {
        **HEADERS,
        "Content-Type": "text/plain; charset=utf-8",
        "Cache-Control": "no-store",
        "Connection": "close",
    }
    shown = [(name.lower().encode(), value.encode()) for name, value in headers.items()]
    await send({"type": "http.response.start", "status": status, "headers": shown})
    await send({"type": "http.response.body", "body": words.encode()})


def _kept_secret() -> str:
    """This user's own on this machine, made at the first start; another at each where nothing can be kept."""
    try:
        kept = state_folder() / "place"
        if kept.exists() and kept.stat().st_size < _LEAST_CHARACTERS:
            kept.unlink()  # it was cut off, as where a disk is full
        with suppress(FileExistsError):
            handle = os.open(kept, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(handle, "w", encoding="ascii") as out:
                out.write(secrets.token_urlsafe(64))
        secret = kept.read_text(encoding="ascii").strip()
    except (OSError, ValueError, RuntimeError):  # the last: this user has no home
        secret = ""
    return secret if len(secret) >= _LEAST_CHARACTERS else secrets.token_urlsafe(64)
