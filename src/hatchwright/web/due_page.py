"""What is due in a fleet: the lines by aircraft, readings and accomplishments entered, and the days as a calendar."""

from __future__ import annotations

from datetime import date, datetime

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import Fault, HatchwrightError
from hatchwright.page.due_forms import due_forms
from hatchwright.page.due_sheet import due_calendar, due_sheet
from hatchwright.web.fleet_page import fleets_of
from hatchwright.web.lettering import address
from hatchwright.web.lettering import page_text as words
from hatchwright.web.troubles import trouble
from hatchwright.web.who import author_of
from hatchwright.workflow.due_entries import WHAT, with_entry
from hatchwright.workflow.job_folder import ChangedElsewhereError, version_of


@require_safe
def due(request: HttpRequest, name: str) -> HttpResponse:
    """The lines, the worst first, for today or the day that is sent."""
    return _page(request, name)


def _page(
    request: HttpRequest, name: str, *, faults: tuple[Fault, ...] = (), what: str = "", status: int = 200
) -> HttpResponse:
    folder, sent = fleets_of(request), request.GET.get("on", "")
    day = _day(sent)
    on = day or date.today()
    try:
        text, fleet = folder.read(name), folder.fleet(name)
    except HatchwrightError as error:
        return trouble(request, 404, words("page.fleet.unread"), faults=error.as_faults("fleet"))
    values = {
        "name": name,
        "title": fleet.title,
        "sheet": due_sheet(fleet, on),
        "forms": due_forms(fleet, on),
        "version": version_of(text),
        "is_no_day": bool(sent) and day is None,
        "day": sent or on.isoformat(),
        "faults": faults,
        "what": what,
        "sent": request.POST if faults else {},
    }
    return render(request, "due.html", values, status=status)


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text) if len(text) == len("2027-03-15") else None
    except ValueError:
        return None


@require_POST
def enter(request: HttpRequest, name: str) -> HttpResponse:
    """Enter what one of the forms has sent, as a step that undo takes back."""
    what, base = request.POST.get("form", ""), request.POST.get("base", "")
    if what not in WHAT:
        raise Http404
    kept = ("form", "base", "csrfmiddlewaretoken")
    sent = {box: str(value) for box, value in request.POST.items() if box not in kept}
    try:
        fleets_of(request).enter(name, base, lambda text: with_entry(text, what, sent), by=author_of(request))
    except HatchwrightError as error:
        status = 409 if isinstance(error, ChangedElsewhereError) else 400
        return _page(request, name, faults=error.as_faults("fleet"), what=what, status=status)
    return redirect(f"{address('fleet-due', name=name)}#due")


@require_safe
def calendar(request: HttpRequest, name: str) -> HttpResponse:
    """The days as a calendar file."""
    try:
        made = due_calendar(fleets_of(request).fleet(name), name, now=datetime.now().astimezone())
    except HatchwrightError as error:
        return trouble(request, 404, words("page.fleet.unread"), faults=error.as_faults("fleet"))
    headers = {"Content-Disposition": 'attachment; filename="due.ics"'}
    return HttpResponse(made, content_type="text/calendar; charset=utf-8", headers=headers)
