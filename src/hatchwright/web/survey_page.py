"""The page of a survey: readings entered in the order of walking round the bay, the answer beside them at once."""

from __future__ import annotations

import secrets
from datetime import datetime
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import Fault, HatchwrightError, JobError
from hatchwright.layout.lay_out import lay_out
from hatchwright.page.fill_in import fill_in, with_part, without_part
from hatchwright.page.screen import Asked
from hatchwright.page.survey import (
    STEP,
    Beside,
    SurveyView,
    begun,
    beside,
    survey_view,
    with_survey,
)
from hatchwright.page.survey_legs import is_on_page
from hatchwright.page.ways_out import with_way_out
from hatchwright.web.hand import hand_of
from hatchwright.web.job_page import asked_of, entered, not_written
from hatchwright.web.lettering import address, anchor, place_of
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import Site, site_of
from hatchwright.web.troubles import opens_job, trouble
from hatchwright.web.typed import typed_in
from hatchwright.words.refusals import fault_sentences
from hatchwright.workflow.job_folder import version_of
from hatchwright.workflow.printing import PAPERS, paper_of
from hatchwright.workflow.survey_papers import blank_survey, survey_papers

_MOST_LETTERS = 100_000
"""What a survey enters into a job is shorter by far [characters]."""

_PAGE = "survey"
_PAPERS = PAPERS[:2]


@require_safe
@opens_job()
def survey(request: HttpRequest, name: str) -> HttpResponse:
    """The whole page."""
    asked = asked_of(request, name)
    try:
        view = survey_view(asked)
    except JobError:
        return redirect("text", name=name)
    added = request.GET.get("at", "")
    values = {
        **_values(site_of(request), view, picked=request.GET.get("beside", "")),
        "page_id": secrets.token_hex(8),
        "focus": next((box for box in view.sheet.boxes if added and box.startswith(f"{added}.")), added),
    }
    return render(request, "survey.html", values)


@require_POST
def enter(request: HttpRequest, name: str) -> HttpResponse:
    """Put what was typed into the job, and answer."""
    site, typed = site_of(request), typed_in(request.POST)
    try:
        text = site.jobs.enter(name, hand_of(request), lambda text: fill_in(text, typed))
    except JobError as error:
        return not_written(request, name, error, typed)
    if not request.headers.get("HX-Request"):
        return redirect(_PAGE, name=name)
    view = survey_view(Asked(text, site.jobs.folder, name, shop=site.shop))
    return render(request, "survey_answer.html", _values(site, view, picked=request.POST.get("beside", "")))


@require_POST
def begin(request: HttpRequest, name: str) -> HttpResponse:
    """Begin a survey of a job that has none."""
    u = request.POST.get("u", "")[:40]
    return entered(request, name, lambda text: begun(text, u), then=lambda: "", page=_PAGE)


@require_POST
def change_parts(request: HttpRequest, name: str) -> HttpResponse:
    """Add or take away a line or a section of the survey; what was typed meanwhile goes in too."""
    typed = typed_in(request.POST)
    does, _, path = request.POST.get("part", "").partition(":")
    at = path.rpartition(".")[0]

    def change(text: str) -> str:
        nonlocal at
        text = fill_in(text, typed)
        if does != "add":
            return without_part(text, path)
        text, at = with_part(text, path)
        return text

    return entered(request, name, change, typed, then=lambda: f"?at={at}", page=_PAGE)


@require_POST
def take(request: HttpRequest, name: str) -> HttpResponse:
    """Enter a reading of the sketch, or the survey, into the job, as a step that undo takes back."""
    asked = site_of(request).asked(name)
    changes = request.POST.get("changes", "")[:_MOST_LETTERS]
    return entered(
        request,
        name,
        lambda text: with_way_out(text, changes, asked) if changes else with_survey(text, asked),
        then=lambda: "#survey-answer",
        step=STEP,
        page=_PAGE,
    )


@require_safe
def survey_paper(request: HttpRequest, name: str, which: str) -> HttpResponse:
    """The survey sheet with what is known, or the drawing."""
    size = request.GET.get("paper", "")
    paper = paper_of(size if size in _PAPERS else _PAPERS[0]).plain
    try:
        asked = asked_of(request, name)
        layout = lay_out(asked.entered(), asked.shop)
        files = survey_papers(layout, stamp=datetime.now().astimezone(), paper=paper)
    except HatchwrightError as error:
        return trouble(request, 409, words("page_site.no_paper"), faults=error.as_faults("job"))
    made = next((one for one in files if one.kind == f"SURVEY_{which.upper()}"), None)
    if made is None:
        raise Http404
    return _pdf(made.name, made.content)


@require_safe
def blank(request: HttpRequest) -> HttpResponse:
    """An empty survey sheet, before there is a job."""
    size = request.GET.get("paper", "")
    made = blank_survey(
        stamp=datetime.now().astimezone(), paper=paper_of(size if size in _PAPERS else _PAPERS[0]).plain
    )
    return _pdf(made.name, made.content)


def _pdf(name: str, content: bytes) -> HttpResponse:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(content, content_type="application/pdf", headers=headers)


def _values(site: Site, view: SurveyView, picked: str = "") -> dict[str, Any]:
    name, sheet, own = view.asked.name, view.sheet, view.own_faults
    which = ("sheet", "drawing") if view.svg else ("sheet",)
    return {
        **_other_side(site, view, picked),
        "job_name": name,
        "view": view,
        "units": view.unit,
        "version": version_of(view.asked.text),
        "steps": site.jobs.steps(name),
        "faults": own,
        "places": [(place_of(fault.field, sheet), sheet.name_of(fault.field)) for fault in own],
        "others": len(view.faults) - len(own),
        "papers": [
            (
                words(f"page_site.print.{one}", paper=paper.capitalize()),
                f"{address('survey-paper', name=name, which=one)}?paper={paper}",
            )
            for one in (() if view.faults else which)
            for paper in _PAPERS
        ],
        "saved": datetime.now().strftime("%H:%M:%S"),
        "is_entered": site.jobs.last_step(name) == STEP,
        "said": {
            anchor(path): (" ".join(map(fault_sentences, box.faults)) or box.echo, bool(box.faults))
            for path, box in sheet.boxes.items()
            if is_on_page(path)
        },
    }


def _other_side(site: Site, view: SurveyView, picked: str) -> dict[str, Any]:
    """The other jobs of the folder, and the survey of the one that is picked beside this one."""
    shown: Beside | None = None
    fault: Fault | None = None
    if picked and view.answer:
        try:
            shown = beside(view.answer, site.asked(picked))
        except HatchwrightError as error:
            fault = error.as_faults("job")[0]
    others = [one for one in site.jobs.names() if one != view.asked.name]
    return {"other_jobs": others, "picked": picked, "beside": shown, "beside_fault": fault}
