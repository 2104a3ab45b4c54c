"""How a request reaches its view: by its length, then in one step in a thread of its own."""

from __future__ import annotations

import re
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

LARGEST_BODY_BYTES = 4_000_000
"""A job file is at most 1 MB, of which a form takes three bytes for one, and six for the end of a line."""

LARGEST_PICTURE_BYTES = 48_000_000
"""A letter page at 600 dpi in gray has 34 million pixels of a byte, packed by most scanners."""

_OF_PICTURES = re.compile(r"/job/[^/]+/scan\Z")
"""How the address ends that takes a picture: no address that is open to everybody ends so."""

_MOST_UNHEARD_BYTES = 50_000_000
"""A larger body is refused before it has come; the browser then may not hear why."""

_MOST_DIGITS = 18


class BodyLimit:
    """An ASGI application that lets through only requests with a known, moderate length.

    Django reads the whole body before its own middleware can look at it, so this stands in front.
    """

    def __init__(self, app: App) -> None:
        self.app = app

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Answer 411 or 413 itself, or hand on."""
        length = _length(dict(scope["headers"])) if scope["type"] == "http" else 0
        if length is None:
            await answer_plainly(send, 411, tell(said("page.length_not_known")))
        elif length > _most_bytes(scope):
            if length <= _MOST_UNHEARD_BYTES:  # no browser reads an answer before it has sent all of its own
                while (await receive()).get("more_body"):
                    pass
            await answer_plainly(send, 413, tell(said("page.too_large")))
        else:
            await self.app(scope, receive, send)


def _most_bytes(scope: Message) -> int:
    return LARGEST_PICTURE_BYTES if _OF_PICTURES.search(str(scope.get("path", ""))) else LARGEST_BODY_BYTES


def _length(headers: dict[bytes, bytes]) -> int | None:
    """Of the body [bytes]; None where it is not told."""
    length = headers.get(b"content-length", b"0")
    if b"transfer-encoding" in headers or not length.isdigit():
        return None
    return int(length.lstrip(b"0")[:_MOST_DIGITS] or b"0")  # Python reads only so many digits


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
