"""The fleets of a folder: begin one from a pattern and pasted aircraft, its board, and the changes of its pattern."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hatchwright.errors import Fault, HatchwrightError, JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.page.fleet_board import board, job_names
from hatchwright.page.pattern_sheet import pattern_view, seen_mark
from hatchwright.web.lettering import address
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of
from hatchwright.web.troubles import trouble
from hatchwright.web.typed import changed_in, was_in
from hatchwright.web.who import author_of
from hatchwright.workflow.fleet_entries import (
    STATED,
    new_fleet_text,
    with_aircraft,
    with_hours,
    with_stated,
    with_stock,
)
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.fleet_lines import begin_fleet, fleet_lines, make_jobs
from hatchwright.workflow.fleet_pattern import give_pattern, pattern_changes
from hatchwright.workflow.fleet_pull import fleet_pull
from hatchwright.workflow.job_folder import ChangedElsewhereError, version_of

_CHANGED, _REFUSED = 409, 400


def fleets_of(request: HttpRequest) -> FleetFolder:
    """The fleets of the folder that a server shows."""
    return FleetFolder(site_of(request).jobs.folder)


@require_http_methods(["GET", "HEAD", "POST"])
def fleets(request: HttpRequest) -> HttpResponse:
    """The list of fleets, and a new one with all its jobs."""
    folder, jobs = fleets_of(request), site_of(request).jobs
    sent = {name: request.POST.get(name, "") for name in ("title", "pattern", "aircraft")}
    faults: tuple[Fault, ...] = ()
    try:
        if request.method == "POST":
            text = new_fleet_text(sent["title"], sent["pattern"], sent["aircraft"])
            return redirect(
                "fleet", name=begin_fleet(folder, jobs, sent["title"], text, by=author_of(request))
            )
    except HatchwrightError as error:
        faults = error.as_faults("fleet")
    try:
        values = {"names": _titles(folder), "patterns": _patterns(request), "sent": sent, "faults": faults}
    except JobError as error:
        return trouble(request, 404, words("page.no_list"), faults=error.faults)
    return render(request, "fleets.html", values, status=400 if faults else 200)


def _titles(folder: FleetFolder) -> list[tuple[str, str]]:
    """Each fleet with its title, or its file name where it can't be read."""
    found = []
    for name in folder.names():
        try:
            found.append((name, str(raw_data(folder.read(name)).get("title") or name)))
        except JobError:
            found.append((name, name))
    return found


def _patterns(request: HttpRequest) -> list[tuple[str, str]]:
    """The jobs that are no line of a fleet, each with what the list calls it."""
    site, folder = site_of(request), fleets_of(request)
    taken: set[str] = set()
    for name in folder.names():
        try:
            taken |= {one.line.job or "" for one in fleet_lines(folder.fleet(name))}
        except JobError:
            continue
    lines = site.job_list.lines()
    return [(name, (line.title if line else "") or name) for name, line in lines.items() if name not in taken]


@require_safe
def fleet(request: HttpRequest, name: str) -> HttpResponse:
    """The board."""
    return _board(request, name)


def _board(
    request: HttpRequest, name: str, *, faults: tuple[Fault, ...] = (), what: str = "", status: int = 200
) -> HttpResponse:
    site, folder = site_of(request), fleets_of(request)
    try:
        named = job_names(folder.fleet(name), site.jobs)
        lines = site.job_list.lines(named) if named else {}
        shown = board(folder, site.jobs, name, lines, date.today())
    except HatchwrightError as error:
        if isinstance(error, JobError) and name in folder.names():
            return redirect("fleet-text", name=name)
        return trouble(request, 404, words("page.fleet.unread"), faults=error.as_faults("fleet"))
    values: dict[str, Any] = {
        "name": name,
        "board": shown,
        "faults": faults,
        "what": what,
        "sent": changed_in(request.POST) if faults else {},
        "was": was_in(request.POST),
        "today": date.today().isoformat(),
    }
    return render(request, "fleet.html", values, status=status)


@require_POST
def enter(request: HttpRequest, name: str) -> HttpResponse:
    """Enter what one of the board's forms has sent."""
    folder, site, what = fleets_of(request), site_of(request), request.POST.get("what", "")
    sent, base = request.POST, request.POST.get("base", "")
    changes: dict[str, Callable[[str], str]] = {
        "board": lambda text: with_stated(text, _stated(request)),
        "aircraft": lambda text: with_aircraft(text, sent.get("aircraft", "")),
        "stock": lambda text: with_stock(text, sent.get("stock", "")),
        "hours": lambda text: with_hours(
            text,
            sent.get("line", ""),
            step=sent.get("hours_step", ""),
            hours=sent.get("hours", ""),
            date=sent.get("date", ""),
            who=sent.get("hours_who", ""),
        ),
    }
    try:
        if what == "jobs":
            make_jobs(folder, site.jobs, name, base, by=author_of(request))
        elif what == "undo":
            folder.undo(name, base, by=author_of(request))
        elif what in changes:
            text = folder.enter(name, base, changes[what], by=author_of(request))
            if what == "aircraft":
                make_jobs(folder, site.jobs, name, version_of(text), by=author_of(request))
        else:
            raise Http404
    except HatchwrightError as error:
        status = _CHANGED if isinstance(error, ChangedElsewhereError) else _REFUSED
        return _board(request, name, faults=error.as_faults("fleet"), what=what, status=status)
    return redirect(f"{address('fleet', name=name)}#{what}")


def _stated(request: HttpRequest) -> dict[str, dict[str, str]]:
    """Where the work stands, by the key of each line."""
    stated: dict[str, dict[str, str]] = {}
    for box, value in request.POST.items():
        of, _, key = box.partition(":")
        if key and of in STATED:
            stated.setdefault(key, {})[of] = str(value)
    return stated


@require_http_methods(["GET", "HEAD", "POST"])
def changes(request: HttpRequest, name: str) -> HttpResponse:
    """What the present pattern changes where; sent, it is entered in every job that is not signed."""
    folder, jobs = fleets_of(request), site_of(request).jobs
    faults: tuple[Fault, ...] = ()
    try:
        found = pattern_changes(folder, jobs, name)
        if request.method == "POST":
            if request.POST.get("seen") != seen_mark(found):
                raise JobError.about("pattern", "fleet.changed_meanwhile")
            taking, by = request.POST.getlist("take"), author_of(request)
            refused = give_pattern(folder, jobs, name, found, taking=taking, by=by)
            if not refused:
                return redirect("fleet", name=name)
            faults = tuple(fault for one in refused for fault in one.faults)
            found = pattern_changes(folder, jobs, name)
    except HatchwrightError as error:
        faults = error.as_faults("pattern")
        try:
            found = pattern_changes(folder, jobs, name)
        except HatchwrightError:
            return trouble(request, 404, words("page.fleet.unread"), faults=faults)
    values = {"name": name, "view": pattern_view(found), "faults": faults}
    return render(request, "fleet_changes.html", values, status=409 if faults else 200)


@require_http_methods(["GET", "HEAD", "POST"])
def fleet_text(request: HttpRequest, name: str) -> HttpResponse:
    """The text of a fleet file: to read, and to enter what no form asks for, such as mandates and times."""
    folder = fleets_of(request)
    try:
        held = folder.read(name)
    except JobError as error:
        return trouble(request, 404, words("page.fleet.unread"), faults=error.faults)
    typed, base, faults = held, version_of(held), tuple[Fault, ...]()
    elsewhere: str | None = None
    if request.method == "POST":
        typed, base = request.POST.get("text", "").replace("\r\n", "\n"), request.POST.get("base", "")
        try:
            folder.enter(name, base, lambda _: typed, by=author_of(request))
            return redirect("fleet", name=name)
        except ChangedElsewhereError as error:  # both are shown, and what is sent now is chosen
            faults, base, elsewhere = error.faults, version_of(error.text), error.text
        except JobError as error:
            faults = error.faults
    else:
        try:
            folder.fleet(name)
        except JobError as error:
            faults = error.faults
    values = {"name": name, "text": typed, "version": base, "faults": faults, "elsewhere": elsewhere}
    refused = _REFUSED if elsewhere is None else _CHANGED
    status = refused if faults and request.method == "POST" else 200
    return render(request, "fleet_text.html", values, status=status)


@require_safe
def pull(request: HttpRequest, name: str, which: str) -> HttpResponse:
    """The pull list of all lines, less what is on hand: `csv` or `pdf`."""
    kinds = {"csv": "text/csv; charset=utf-8", "pdf": "application/pdf"}
    if which not in kinds:
        raise Http404
    site = site_of(request)
    try:
        files = fleet_pull(
            fleets_of(request), site.jobs, name, stamp=datetime.now().astimezone(), shop=site.shop
        )
    except HatchwrightError as error:
        return trouble(request, 409, words("page.fleet.no_pull"), faults=error.as_faults("fleet"))
    made = next(file for file in files if file.written == which)
    headers = {"Content-Disposition": f'attachment; filename="{made.name}"'}
    return HttpResponse(made.content, content_type=kinds[which], headers=headers)
