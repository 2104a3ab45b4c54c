"""The ways out of what was made wrong: asked for beside a line, and entered by one tap."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.page.ways_out import STEP, LineName, with_way_out
from hatchwright.web.job_page import asked_of, entered
from hatchwright.web.site import site_of, waiting_for
from hatchwright.web.troubles import opens_job
from hatchwright.web.workers import ways_of_line
from hatchwright.workflow.job_folder import version_of

_MOST_LETTERS = 100_000
"""What a way out enters is shorter by far [characters]."""


@require_safe
@opens_job("page.cannot_judge")
def ways(request: HttpRequest, name: str) -> HttpResponse:
    """Those of one line; nothing when the job has moved on, or its page is left."""
    asked = asked_of(request, name)
    if version_of(asked.text) != request.GET.get("version", ""):
        return HttpResponse(status=204)
    hole = request.GET.get("hole", "")
    line = LineName(
        request.GET.get("code", "")[:8],
        request.GET.get("cause", "")[:200],
        int(hole) if hole.isascii() and hole.isdigit() and len(hole) < 6 else 0,
    )
    found = ways_of_line(asked, line, waiting_for(request))
    if found is None:
        return HttpResponse(status=204)
    return render(request, "ways.html", {"job_name": name, "found": found, "version": version_of(asked.text)})


@require_POST
def take(request: HttpRequest, name: str) -> HttpResponse:
    """Enter one of them, as a step that undo takes back."""
    site = site_of(request)
    changes = request.POST.get("changes", "")[:_MOST_LETTERS]
    asked = site.asked(name)
    return entered(request, name, lambda text: with_way_out(text, changes, asked), step=STEP)
