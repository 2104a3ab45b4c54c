"""The tag of one hole, asked for when it is tapped in the drawing or found by its number."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hatchwright.errors import HatchwrightError
from hatchwright.page.hole_tag import hole_tag
from hatchwright.web.job_page import asked_of


@require_safe
def hole(request: HttpRequest, name: str, number: int) -> HttpResponse:
    """What is known of one hole; nothing where the job is not sound, or has no such hole."""
    try:
        tag = hole_tag(asked_of(request, name), number)
    except HatchwrightError:
        tag = None
    if tag is None:
        return HttpResponse(status=204)
    return render(request, "hole.html", {"job_name": name, "tag": tag})
