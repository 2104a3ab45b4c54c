"""The papers of a job, made when asked for and handed out under one key, so that all are of the same moment."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from hatchwright.web.troubles import trouble


@require_safe
def papers(request: HttpRequest, name: str) -> HttpResponse:
    return trouble(request, 404, "wait")


@require_safe
def paper(request: HttpRequest, name: str, key: str, file: str) -> HttpResponse:
    return trouble(request, 404, "wait")
