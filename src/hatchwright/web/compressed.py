"""Pages go compressed to a browser that takes them so; what answers a key goes as it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.middleware.gzip import GZipMiddleware

if TYPE_CHECKING:
    from django.http import HttpRequest
    from django.http.response import HttpResponseBase


class CompressedPages(GZipMiddleware):
    """Middleware that compresses whole pages, and the scripts and styles that a browser asks for but once.

    On this computer an answer to a key is handed over in less time than compressing it takes; papers are compressed in
    themselves. Compressing gives nothing away: the length of an answer tells of a secret in it only to who can see the
    length and not the answer (BREACH), and here nothing is encrypted, no page of another origin comes with the cookie,
    and the token of a form is masked anew in each answer.
    """

    def process_response(self, request: HttpRequest, response: HttpResponseBase) -> HttpResponseBase:
        """Compress a page."""
        is_text = response.headers.get("Content-Type", "").startswith("text/")
        if not is_text or response.streaming or "HX-Request" in request.headers:
            return response
        return super().process_response(request, response)
