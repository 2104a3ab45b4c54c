"""The text of a job file: to read, and to mend where it is no longer a job that has boxes."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.schema import up_to_date
from hatchwright.web.hand import hand_of_one
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of
from hatchwright.web.troubles import opens_job
from hatchwright.workflow.job_folder import ChangedElsewhereError, version_of


@require_http_methods(["GET", "HEAD", "POST"])
@opens_job()
def text(request: HttpRequest, name: str) -> HttpResponse:
    """Show the text, or save it as it was typed, in the present schema."""
    folder = site_of(request).jobs
    held = folder.read(name)
    if request.method != "POST":
        return _show(request, name, held, version_of(held), _faults_of(held))
    typed = request.POST.get("text", "").replace("\r\n", "\n")
    hand = hand_of_one(request)
    faults, status, base = _faults_of(typed), 400, hand.base
    elsewhere: str | None = None
    if not faults:
        try:
            folder.enter(name, hand, lambda _: up_to_date(typed))
        except ChangedElsewhereError as error:  # both are shown, and what is sent now is chosen
            faults, status, base, elsewhere = error.faults, 409, version_of(error.text), error.text
        except JobError as error:
            faults, status = error.faults, 409
        else:
            return redirect("job", name=name)
    heading = "page.text.not_saved"
    return _show(request, name, typed, base, faults, heading=heading, status=status, elsewhere=elsewhere)


def _faults_of(typed: str) -> tuple[Fault, ...]:
    """Faults that leave a job without boxes; all others are shown in their boxes."""
    try:
        raw_data(typed)
    except JobError as error:
        return error.faults
    return ()


def _show(
    request: HttpRequest,
    name: str,
    shown: str,
    version: str,
    faults: tuple[Fault, ...],
    *,
    heading: str = "page.text.unreadable",
    status: int = 200,
    elsewhere: str | None = None,
) -> HttpResponse:
    values = {
        "job_name": name,
        "text": shown,
        "version": version,
        "steps": site_of(request).jobs.steps(name),
        "faults": faults,
        "heading": words(heading),
        "elsewhere": elsewhere,
    }
    return render(request, "text.html", values, status=status)
