"""The door: only who opened the printed address once is let in, until the program ends or they leave."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.web.site import site_of

_OPEN = ("/enter/", "/static/")


class Door:
    """Middleware that lets in only a browser that came through the printed address."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer, or show the closed door."""
        if request.path_info.startswith(_OPEN) or request.session.get("is_in"):
            return self.get_response(request)
        return closed(request)


@require_safe
def enter(request: HttpRequest, token: str) -> HttpResponse:
    """Let a browser in that brings an unused token, and send it on to the job named at the start."""
    site = site_of(request)
    if request.method == "GET" and site.tokens.take(token):
        request.session.cycle_key()
        request.session["is_in"] = True
        return redirect("job", name=site.first_job) if site.first_job else redirect("start")
    if request.session.get("is_in"):
        return redirect("start")
    return closed(request)


@require_POST
def leave(request: HttpRequest) -> HttpResponse:
    """Let a browser out: its cookie, and every copy of it, opens nothing any more."""
    request.session.flush()
    return redirect("start")


def closed(request: HttpRequest) -> HttpResponse:
    """The page for who has not come through the printed address; what a form sent stays on it, to be sent again."""
    posted = [(name, value) for name, values in request.POST.lists() for value in values]
    return render(request, "closed.html", {"posted": posted}, status=403)
