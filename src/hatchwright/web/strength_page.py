"""The strength of a job beside its drawing, and its report on paper."""

from __future__ import annotations

from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hatchwright.errors import JobError
from hatchwright.page.made_papers import Written
from hatchwright.page.strength_screen import StrengthRequest
from hatchwright.web.job_page import look_kept
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of
from hatchwright.web.troubles import trouble
from hatchwright.web.worker import WorkerError
from hatchwright.workflow.job_folder import version_of

_PAPERS = ("letter", "a4")


@require_safe
def strength(request: HttpRequest, name: str) -> HttpResponse:
    """Gate, margins and stress picture; nothing when the job has moved on or a later page asked."""
    from hatchwright.web.strength_worker import strength_view

    try:
        asked = _asked(request, name)
        if version_of(asked.text) != request.GET.get("version", ""):
            return HttpResponse(status=204)
        view = strength_view(asked)
    except JobError as error:
        return trouble(request, 404, words("page.cannot_open"), faults=error.faults)
    except WorkerError as error:
        return trouble(request, 503, words("page.no_strength"), remedy=f"{error}.")
    if view is None:
        return HttpResponse(status=204)
    return render(
        request, "strength.html", {"job_name": name, "strength": view, "units": view.unit, "sizes": _PAPERS}
    )


@require_safe
def strength_report(request: HttpRequest, name: str) -> HttpResponse:
    """The report on paper, every margin with every working."""
    from hatchwright.web.strength_worker import strength_papers

    paper = request.GET.get("paper", "")
    try:
        asked = _asked(request, name)
        made = strength_papers(
            asked, stamp=datetime.now().astimezone(), paper=paper if paper in _PAPERS else _PAPERS[0]
        )
    except JobError as error:
        return trouble(request, 404, words("page.cannot_open"), faults=error.faults)
    except WorkerError as error:
        return trouble(request, 503, words("page.no_strength"), remedy=f"{error}.")
    if made.faults:
        return trouble(request, 409, words("page.no_report"), faults=made.faults)
    report = next(file for file in made.files if file.written is Written.PDF)
    headers = {"Content-Disposition": f'attachment; filename="{report.name}"'}
    return HttpResponse(report.content, content_type="application/pdf", headers=headers)


def _asked(request: HttpRequest, name: str) -> StrengthRequest:
    site = site_of(request)
    text, folder = site.jobs.read(name), site.jobs.folder
    return StrengthRequest(text, folder, name, look_kept(request).other_side, site.shop)
