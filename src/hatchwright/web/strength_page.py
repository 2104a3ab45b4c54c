"""The strength of a job beside its drawing, and its report on paper."""

from __future__ import annotations

from datetime import datetime
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import HatchwrightError
from hatchwright.page.files_beside import version_with_files
from hatchwright.page.made_papers import Written
from hatchwright.page.screen import Asked
from hatchwright.page.strength_screen import StrengthView
from hatchwright.web.job_page import asked_of
from hatchwright.web.lettering import address
from hatchwright.web.lettering import page_text as words
from hatchwright.web.long_work import LongWork, State, WorkKey
from hatchwright.web.site import site_of, waiting_for
from hatchwright.web.troubles import opens_job, trouble
from hatchwright.web.worker import WorkerError
from hatchwright.web.workers import strength_papers, strength_view
from hatchwright.workflow.job_folder import version_of

_PAPERS = ("letter", "a4")
_WAITS_S = 0.5
"""How long a page that asks for strength waits for it before it is told how far it is [s]."""


@require_safe
@opens_job("page.no_strength")
def strength(request: HttpRequest, name: str) -> HttpResponse:
    """Gate, margins and stress picture; 202 with how far they are while they are worked out, which goes on when the
    page is reloaded. Nothing when the job has moved on."""
    asked = asked_of(request, name)
    if version_of(asked.text) != request.GET.get("version", ""):
        return HttpResponse(status=204)
    key = _key(asked)
    work = _work(request, asked, key)
    ended = work.ended(_WAITS_S)
    if work.state is State.DROPPED:
        return HttpResponse(status=204)
    shown = urlencode({"other_side": "yes" if key.choice else "", "version": key.version})
    values = {
        "job_name": name,
        "state": str(work.state),
        "work": work,
        "why": work.error and work.error.as_fault("strength"),
        "strength": work.answer,
        "units": work.answer.unit if work.answer else "in",
        "sizes": _PAPERS,
        "cancel": f"{address('strength-cancel', name=name)}?{shown}",
        "again": address("strength-again", name=name),
    }
    return render(request, "strength_state.html", values, status=200 if ended else 202)


@require_POST
def cancel_strength(request: HttpRequest, name: str) -> HttpResponse:
    """End the working out of strength that a page shows, whatever the job has become since."""
    key = WorkKey(name, bool(request.GET.get("other_side")), request.GET.get("version", ""))
    if work := site_of(request).strength.get(key):
        work.cancel()
    return redirect("job", name=name)


@require_POST
@opens_job("page.no_strength")
def strength_again(request: HttpRequest, name: str) -> HttpResponse:
    """Work strength out anew, after that was canceled or failed."""
    asked = asked_of(request, name)
    _work(request, asked, _key(asked), again=True)
    return redirect("job", name=name)


def _work(request: HttpRequest, asked: Asked, key: WorkKey, *, again: bool = False) -> LongWork[StrengthView]:
    return site_of(request).strength.begun(key, lambda work: strength_view(asked, work), again=again)


def _key(asked: Asked) -> WorkKey:
    return WorkKey(asked.name, asked.look.other_side, version_with_files(asked))


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
