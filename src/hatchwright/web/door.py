"""The door: only who opened the printed address once is let in, on this machine."""

from __future__ import annotations

import secrets
import threading
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

_OPEN = ("/enter/", "/static/")


class Tokens:
    """Tokens that open the door once each."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._unused: set[str] = set()

    def issue(self) -> str:
        """Make a token that opens the door once."""
        token = secrets.token_urlsafe(24)
        with self._lock:
            self._unused.add(token)
        return token

    def take(self, token: str) -> bool:
        """Use a token up.

        Args:
            token: as it stood in the address.
        Returns:
            bool: whether it was an unused one.
        """
        with self._lock:
            found = next(
                (known for known in self._unused if secrets.compare_digest(known.encode(), token.encode())),
                None,
            )
            self._unused.discard(found or "")
            return found is not None


TOKENS = Tokens()


class Door:
    """Middleware that lets in only a browser that came through the printed address."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer, or show the closed door."""
        if request.path.startswith(_OPEN) or request.session.get("is_in"):
            return self.get_response(request)
        return closed(request)


@require_safe
def enter(request: HttpRequest, token: str) -> HttpResponse:
    """Let a browser in that brings an unused token, and send it on to the job named at the start."""
    from django.conf import settings

    if request.method == "GET" and TOKENS.take(token):
        request.session["is_in"] = True
        return redirect("job", name=settings.FIRST_JOB) if settings.FIRST_JOB else redirect("start")
    if request.session.get("is_in"):
        return redirect("start")
    return closed(request)


def closed(request: HttpRequest) -> HttpResponse:
    """The page for who has not come through the printed address."""
    return render(request, "closed.html", status=403)
