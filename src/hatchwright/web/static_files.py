"""The few files that every page needs, each under the name of its content so that a browser may keep it."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True)
class _File:
    content: bytes
    kind: str
    mark: str


@cache
def _all() -> dict[str, _File]:
    found = {}
    for name, (package, place, kind) in _SOURCES.items():
        content = files(package).joinpath(place).read_bytes()
        found[name] = _File(content, kind, hashlib.sha256(content).hexdigest()[:12])
    return found


def static_address(name: str) -> str:
    """Where a page finds one of the files.

    Returns:
        str: a path that changes when the file does.
    """
    return f"/static/{_all()[name].mark}/{name}"


@require_safe
def static_file(request: HttpRequest, mark: str, name: str) -> HttpResponse:
    """Send one of the files; only those listed here can be had."""
    file = _all().get(name)
    if file is None or file.mark != mark:
        raise Http404
    headers = {"Cache-Control": "public, max-age=31536000, immutable"}
    return HttpResponse(file.content, content_type=file.kind, headers=headers)
