"""The few files that every page needs, each under the name of its content so that a browser may keep it."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

_SOURCES = {
    "htmx.js": ("django_htmx", "static/django_htmx/htmx-2.min.js", "text/javascript; charset=utf-8"),
    **{
        f"{name}.js": ("hatchwright.web", f"static/{name}.js", "text/javascript; charset=utf-8")
        for name in ("in_place", "at_rest", "page", "findings", "strength")
    },
    "strength.css": ("hatchwright.web", "static/strength.css", "text/css; charset=utf-8"),
    "page.css": ("hatchwright.web", "static/page.css", "text/css; charset=utf-8"),
    "icon.svg": ("hatchwright.web", "static/icon.svg", "image/svg+xml"),
}


@cache
def _all() -> dict[str, tuple[bytes, str, str]]:
    """Content, kind and mark of each."""
    found = {}
    for name, (package, place, kind) in _SOURCES.items():
        content = files(package).joinpath(place).read_bytes()
        found[name] = content, kind, hashlib.sha256(content).hexdigest()[:12]
    return found


def static_address(name: str) -> str:
    """Where a page finds one of the files: a path that changes when the file does."""
    _, _, mark = _all()[name]
    return f"/static/{mark}/{name}"


@require_safe
def static_file(request: HttpRequest, mark: str, name: str) -> HttpResponse:
    """Send one of the files; only those listed here can be had."""
    content, kind, present = _all().get(name, (b"", "", ""))
    if not present or present != mark:
        raise Http404
    headers = {"Cache-Control": "public, max-age=31536000, immutable"}
    return HttpResponse(content, content_type=kind, headers=headers)
