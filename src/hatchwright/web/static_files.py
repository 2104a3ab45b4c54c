"""The few files that every page needs, each under the name of its content so that a browser may keep it."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

_KINDS = {"js": "text/javascript; charset=utf-8", "css": "text/css; charset=utf-8", "svg": "image/svg+xml"}


@cache
def _all() -> dict[str, tuple[bytes, str, str]]:
    """Content, kind and mark of each."""
    sources = {file.name: file for file in files("hatchwright.web").joinpath("static").iterdir()}
    sources["htmx.js"] = files("django_htmx").joinpath("static/django_htmx/htmx-2.min.js")
    found = {}
    for name, file in sources.items():
        content = file.read_bytes()
        found[name] = content, _KINDS[name.rpartition(".")[2]], hashlib.sha256(content).hexdigest()[:12]
    return found


def static_address(name: str) -> str:
    """Where a page finds one of the files: a path that changes when the file does."""
    _, _, mark = _all()[name]
    return reverse("static", kwargs={"mark": mark, "name": name})


@require_safe
def static_file(request: HttpRequest, mark: str, name: str) -> HttpResponse:
    """Send one of the files; only those of the page can be had."""
    content, kind, present = _all().get(name, (b"", "", ""))
    if not present or present != mark:
        raise Http404
    headers = {"Cache-Control": "public, max-age=31536000, immutable"}
    return HttpResponse(content, content_type=kind, headers=headers)
