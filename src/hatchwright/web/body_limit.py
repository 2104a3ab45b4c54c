"""Refuse a body that is too large before a byte of it is read."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

from hatchwright.said import said
from hatchwright.words.tell import tell

LARGEST_BODY_BYTES = 2_000_000
"""A job file is at most 1 MB; the form of one is smaller than twice that."""

Message = MutableMapping[str, Any]
App = Callable[
    [Message, Callable[[], Awaitable[Message]], Callable[[Message], Awaitable[None]]], Awaitable[None]
]


class BodyLimit:
    """An ASGI application that lets through only requests with a known, moderate length.

    Django reads the whole body before its own middleware can look at it, so this stands in front.
    """

    def __init__(self, app: App) -> None:
        self.app = app

    async def __call__(
        self,
        scope: Message,
        receive: Callable[[], Awaitable[Message]],
        send: Callable[[Message], Awaitable[None]],
    ) -> None:
        """Answer 411 or 413 itself, or hand on."""
        if scope["type"] == "http" and (status := _refusal(dict(scope["headers"]))):
            why = said("page.length_not_known") if status == 411 else said("page.too_large")
            headers = [(b"content-type", b"text/plain; charset=utf-8"), (b"connection", b"close")]
            await send({"type": "http.response.start", "status": status, "headers": headers})
            await send({"type": "http.response.body", "body": tell(why).encode()})
            return
        await self.app(scope, receive, send)


def _refusal(headers: dict[bytes, bytes]) -> int:
    """Status to refuse with, 0 to let through."""
    if b"transfer-encoding" in headers:
        return 411
    length = headers.get(b"content-length", b"0")
    if not length.isdigit():
        return 411
    return 413 if int(length) > LARGEST_BODY_BYTES else 0
