"""How a request reaches its view: by its length, then in one step in a thread of its own."""

from __future__ import annotations

import threading
from typing import Any

import django
from asgiref.sync import sync_to_async
from django.core.handlers.asgi import ASGIHandler, ASGIRequest
from django.core.handlers.base import BaseHandler
from django.http import HttpRequest
from django.http.response import HttpResponseBase

from hatchwright.said import said
from hatchwright.web.place import App, Message, Receive, Send, answer_plainly
from hatchwright.web.site import LEFT, SITE, Site
from hatchwright.words.tell import tell

LARGEST_BODY_BYTES = 2_000_000
"""A job file is at most 1 MB; the form of one is smaller than twice that."""


class BodyLimit:
    """An ASGI application that lets through only requests with a known, moderate length.

    Django reads the whole body before its own middleware can look at it, so this stands in front.
    """

    def __init__(self, app: App) -> None:
        self.app = app

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Answer 411 or 413 itself, or hand on."""
        if scope["type"] == "http" and (status := _refusal(dict(scope["headers"]))):
            why = said("page.length_not_known") if status == 411 else said("page.too_large")
            await answer_plainly(send, status, tell(why))
        else:
            await self.app(scope, receive, send)


def _refusal(headers: dict[bytes, bytes]) -> int:
    """Status to refuse with, 0 to let through."""
    if b"transfer-encoding" in headers:
        return 411
    length = headers.get(b"content-length", b"0")
    if not length.isdigit():
        return 411
    is_longer = len(length) > len(
        str(LARGEST_BODY_BYTES)
    )  # told by its digits, of which Python reads only so many
    return 413 if is_longer or int(length) > LARGEST_BODY_BYTES else 0


class PageHandler(ASGIHandler):
    """Answers each request in one thread of its own from the first middleware to the last, where Django changes threads
    at each of them; the request knows when its page is left.
    """

    def __init__(self, site: Site) -> None:
        django.setup(set_prefix=False)
        super().__init__()
        self._site = site
        self._in_one_thread = BaseHandler()
        self._in_one_thread.load_middleware()

    def create_request(
        self, scope: Any, body_file: Any
    ) -> tuple[ASGIRequest, None] | tuple[None, HttpResponseBase]:
        """The request with its server's value, or why it cannot be read."""
        made = super().create_request(scope, body_file)
        if made[0] is not None:
            made[0].META[SITE] = self._site
        return made

    async def get_response_async(self, request: HttpRequest) -> HttpResponseBase:
        """Answer a request."""
        left = request.META[LEFT] = threading.Event()
        try:
            return await sync_to_async(self._in_one_thread.get_response)(request)
        finally:  # answered, or cancelled while the thread goes on
            left.set()
