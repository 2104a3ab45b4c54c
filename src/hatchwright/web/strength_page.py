"""The strength of a job beside its drawing, and its report on paper."""

from __future__ import annotations

from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hatchwright.errors import HatchwrightError
from hatchwright.page.made_papers import Written
from hatchwright.web.job_page import asked_of
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import waiting_for
from hatchwright.web.troubles import opens_job, trouble
from hatchwright.web.worker import WorkerError
from hatchwright.web.workers import strength_papers, strength_view
from hatchwright.workflow.job_folder import version_of

_PAPERS = ("letter", "a4")


@require_safe
@opens_job("page.no_strength")
def strength(request: HttpRequest, name: str) -> HttpResponse:
    """Gate, margins and stress picture; nothing when the job has moved on or its page is left."""
    asked = asked_of(request, name)
    if version_of(asked.text) != request.GET.get("version", ""):
        return HttpResponse(status=204)
    view = strength_view(asked, waiting_for(request))
    if view is None:
        return HttpResponse(status=204)
    values = {"job_name": name, "strength": view, "units": view.unit, "sizes": _PAPERS}
    return render(request, "strength.html", values)


@require_safe
@opens_job("page.no_strength")
def strength_report(request: HttpRequest, name: str) -> HttpResponse:
    """The report on paper, every margin with every working."""
    wanted = request.GET.get("paper", "")
    paper, asked = wanted if wanted in _PAPERS else _PAPERS[0], asked_of(request, name)
    try:
        made = strength_papers(asked, waiting_for(request), stamp=datetime.now().astimezone(), paper=paper)
    except WorkerError:
        raise
    except HatchwrightError as error:
        return trouble(request, 409, words("page.no_report"), faults=error.as_faults("job"))
    if made is None:
        return HttpResponse(status=204)
    report = next(file for file in made if file.written is Written.PDF)
    headers = {"Content-Disposition": f'attachment; filename="{report.name}"'}
    return HttpResponse(report.content, content_type="application/pdf", headers=headers)
