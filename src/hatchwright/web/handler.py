"""How a request reaches its view: in one step, but for the views that wait for another process."""

from __future__ import annotations

from inspect import iscoroutinefunction
from typing import Any

import django
from asgiref.sync import sync_to_async
from django.core.handlers.asgi import ASGIHandler, ASGIRequest
from django.core.handlers.base import BaseHandler
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.urls import Resolver404, resolve

from hatchwright.web.site import SITE, Site


class PageHandler(ASGIHandler):
    """Answers in one thread from the first middleware to the last, where Django changes threads at each of them.

    A view that is a coroutine, which is told when its page is left, goes Django's own way.
    """

    def __init__(self, site: Site) -> None:
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
        if _is_waiting(request):
            return await super().get_response_async(request)
        return await sync_to_async(self._in_one_thread.get_response, thread_sensitive=True)(request)


def page_handler(site: Site) -> PageHandler:
    """The application behind the limit on bodies, once Django is set up."""
    django.setup(set_prefix=False)
    return PageHandler(site)


def _is_waiting(request: HttpRequest) -> bool:
    try:
        return iscoroutinefunction(resolve(request.path_info).func)
    except Resolver404:
        return False
