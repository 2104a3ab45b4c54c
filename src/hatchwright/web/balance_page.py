"""The weight and balance of a fleet: what is entered of it, each aircraft before and after, and its sheets."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import Fault, HatchwrightError
from hatchwright.page.balance_view import balance_view, placed_faults
from hatchwright.web.fleet_page import fleets_of
from hatchwright.web.lettering import address
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of
from hatchwright.web.troubles import trouble
from hatchwright.web.typed import WAS, changed_in, was_in
from hatchwright.web.who import author_of
from hatchwright.workflow.balance import balance_papers, fleet_balance
from hatchwright.workflow.balance_entries import with_common, with_weights
from hatchwright.workflow.job_folder import ChangedElsewhereError


@require_safe
def balance(request: HttpRequest, name: str) -> HttpResponse:
    """The page."""
    return _page(request, name)


def _page(
    request: HttpRequest, name: str, *, faults: tuple[Fault, ...] = (), what: str = "", status: int = 200
) -> HttpResponse:
    site, folder = site_of(request), fleets_of(request)
    sent = changed_in(request.POST) if faults else {}
    try:
        text, fleet = folder.read(name), folder.fleet(name)
        view = balance_view(text, fleet, folder.folder, site.shop, sent)
    except HatchwrightError as error:
        return trouble(request, 404, words("page.fleet.unread"), faults=error.as_faults("fleet"))
    placed = placed_faults(faults, fleet)
    values = {
        "name": name,
        "view": view,
        "faults": placed,
        "faulty": {one.box for one in placed},
        "what": what,
        "sent": sent,
        "was": was_in(request.POST),
    }
    return render(request, "balance.html", values, status=status)


@require_POST
def enter(request: HttpRequest, name: str) -> HttpResponse:
    """Enter what one of the two forms has sent."""
    what, base = request.POST.get("what", ""), request.POST.get("base", "")
    sent = {key: str(value) for key, value in request.POST.items() if not key.startswith(WAS)}
    changes: dict[str, Callable[[str], str]] = {
        "common": lambda text: with_common(text, sent),
        "weights": lambda text: with_weights(text, sent),
    }
    if what not in changes:
        raise Http404
    try:
        fleets_of(request).enter(name, base, changes[what], by=author_of(request))
    except HatchwrightError as error:
        status = 409 if isinstance(error, ChangedElsewhereError) else 400
        return _page(request, name, faults=error.as_faults("balance"), what=what, status=status)
    return redirect(f"{address('fleet-balance', name=name)}#{what}")


@require_safe
def sheet(request: HttpRequest, name: str, registration: str, side: str) -> HttpResponse:
    """The sheet of one side of one aircraft."""
    site, folder = site_of(request), fleets_of(request)
    try:
        fleet = folder.fleet(name)
        report = fleet_balance(fleet, folder.folder, registration=registration, shop=site.shop)
        files = balance_papers(report, stamp=datetime.now().astimezone())
    except HatchwrightError as error:
        return trouble(request, 409, words("page.balance.no_sheet"), faults=error.as_faults("balance"))
    made = next((file for file in files if file.side == side), None)
    if made is None:
        raise Http404
    headers = {"Content-Disposition": f'attachment; filename="{made.name}"'}
    return HttpResponse(made.content, content_type="application/pdf", headers=headers)
