"""The page of one job: its boxes, the live drawing, the findings, undo, and the choice between readings."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from datetime import datetime
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe
from msgspec.structs import replace

from hatchwright.errors import JobError
from hatchwright.number import decimal
from hatchwright.page.copy_row import with_copied_row
from hatchwright.page.fill_in import (
    changed_boxes,
    fill_in,
    with_acknowledged,
    with_choice,
    with_confirmed,
    with_part,
    with_unit,
    without_part,
)
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.page.screen import Asked, Look, ScreenView, Seen, screen
from hatchwright.page.tapped_point import newest_point, with_point
from hatchwright.web.answer import answer_values, sections_in_another_form, verdict_values
from hatchwright.web.hand import hand_of
from hatchwright.web.meanwhile import Meanwhile
from hatchwright.web.site import site_of, waiting_for
from hatchwright.web.troubles import opens_job
from hatchwright.web.typed import BOX, typed_in
from hatchwright.web.who import author_of
from hatchwright.web.workers import judged_view
from hatchwright.workflow.job_folder import ChangedElsewhereError, version_of

_MOST_NUMBERS = 200
"""Cautions that one line may hold."""


@require_safe
@opens_job()
def show(request: HttpRequest, name: str) -> HttpResponse:
    """The whole page."""
    site, asked = site_of(request), asked_of(request, name)
    try:
        view = screen(asked, with_strength=False)
    except JobError:
        return redirect("text", name=name)
    added = request.GET.get("at", "")
    values = {
        **answer_values(site, view),
        **verdict_values(site, view),
        "page_id": secrets.token_hex(8),
        "focus": next((box for box in view.sheet.boxes if added and box.startswith(f"{added}.")), added),
        "has_other_side": view.side in ("LEFT", "RIGHT"),
        "saved": "",
    }
    return render(request, "job.html", values)


@require_POST
def enter(request: HttpRequest, name: str) -> HttpResponse:
    """Put what was typed into the job and answer with drawing and echoes; the findings are asked for at rest."""
    site = site_of(request)
    typed = typed_in(request.POST)
    seen: Seen = "inside" if request.POST.get("seen") == "inside" else "outside"
    look = Look(request.POST.get("other_side") == "yes", seen)
    marked = site.marked.get(name)

    def drawn(text: str) -> ScreenView:
        return screen(Asked(text, site.jobs.folder, name, look, site.shop), is_typed=True, marked=marked)

    drawing = Meanwhile(drawn)
    is_awaited = bool(request.headers.get("HX-Request"))

    def change(text: str) -> str:
        new = fill_in(text, typed)
        return drawing.begin(new) if is_awaited else new

    try:
        text = site.jobs.enter(name, hand_of(request), change)
    except JobError as error:
        return not_written(request, name, error, typed)
    if not is_awaited:
        return redirect("job", name=name)
    if look != look_kept(request):
        request.session["look"] = [look.other_side, look.seen]
    view = drawing.of(text)
    values = {
        **answer_values(site, view, since=request.POST.get("base", "")),
        "saved": datetime.now().strftime("%H:%M:%S"),
        "reformed": sections_in_another_form(view.sheet, request.POST),
        "focus": "",
    }
    return render(request, "live.html", values)


@require_safe
@opens_job("page.cannot_judge")
def judged(request: HttpRequest, name: str) -> HttpResponse:
    """Every finding, and the drawing with all that they mark; nothing when the job has moved on or is not sound, or
    its page is left."""
    asked = asked_of(request, name)
    if version_of(asked.text) != request.GET.get("version", ""):
        return HttpResponse(status=204)
    view = judged_view(asked, waiting_for(request))
    if view is None or not view.is_sound:
        return HttpResponse(status=204)
    return render(request, "judged.html", verdict_values(site_of(request), view))


@require_safe
@opens_job()
def passed(request: HttpRequest, name: str) -> HttpResponse:
    """The findings that pass, with their workings; they are many, so the page asks for them only when unfolded."""
    view = screen(asked_of(request, name), drawn=False)
    values = {"view": view, "units": str(view.data.get("units", "in")), "job_name": name}
    return render(request, "passed.html", values)


@require_POST
def change_parts(request: HttpRequest, name: str) -> HttpResponse:
    """Add, take away, copy or confirm a section or a line, add a tapped point, or change the unit; what was typed
    meanwhile goes in too."""
    typed = typed_in(request.POST)
    does, _, path = request.POST.get("part", "").partition(":")
    at = path.rpartition(".")[0]

    def change(text: str) -> str:
        nonlocal at
        text = fill_in(text, typed)
        match does:
            case "add":
                text, at = with_part(text, path)
                return text
            case "copy":
                return with_copied_row(text, path)
            case "point":
                text = with_point(
                    text, _inches(request.POST.get("x", "")), _inches(request.POST.get("y", ""))
                )
                at = newest_point(text)
                return text
            case "confirm":
                at = path
                return with_confirmed(text, path)
            case "unit":
                return with_unit(text, "mm" if path == "mm" else "in")
            case _:
                return without_part(text, path)

    return entered(request, name, change, typed, then=lambda: f"?{urlencode({'at': at})}")


@require_POST
def step_back(request: HttpRequest, name: str) -> HttpResponse:
    """Undo the last step, or put it back."""
    jobs = site_of(request).jobs
    step = jobs.redo if request.POST.get("way") == "again" else jobs.undo
    try:
        step(name, request.POST.get("base", ""), author_of(request))
    except JobError as error:
        return not_written(request, name, error, {})
    return redirect("survey" if request.POST.get("at") == "survey" else "job", name=name)


@require_POST
def choose(request: HttpRequest, name: str) -> HttpResponse:
    """Keep the chosen reading and its reason in the job."""
    chosen = {key: request.POST.get(key, "").strip() for key in ("rule", "reading", "reason")}
    return entered(request, name, lambda text: with_choice(text, **chosen))


@require_POST
def acknowledge(request: HttpRequest, name: str) -> HttpResponse:
    """Let a caution stand, with the reason and initials of who read it."""
    given = (each.partition("=") for each in request.POST.getlist("number")[:_MOST_NUMBERS])
    numbers = [(code, number) for code, _, number in given]
    told = {key: request.POST.get(key, "").strip() for key in ("reason", "initials")}
    if not all(told.values()):
        return not_written(request, name, JobError.about("acknowledged", "page.no_reason"), {})
    return entered(request, name, lambda text: with_acknowledged(text, numbers, **told))


def entered(
    request: HttpRequest,
    name: str,
    change: Callable[[str], str],
    typed: dict[str, str] | None = None,
    then: Callable[[], str] = lambda: "#findings",
    step: str = "",
    page: str = "job",
) -> HttpResponse:
    """Write a change and show the job again, at the place that is known once it is written; or say why not.

    Args:
        step: what the step of undo is called, the page's own name for it without.
        page: which page of the job is shown.
    """
    hand = hand_of(request)
    try:
        site_of(request).jobs.enter(name, replace(hand, step=step) if step else hand, change)
    except JobError as error:
        return not_written(request, name, error, typed or {})
    return HttpResponseRedirect(reverse(page, kwargs={"name": name}) + then())


def _inches(text: str) -> float:
    """A coordinate of a tap [in]."""
    value = decimal(text[:40])
    if value is None:
        raise JobError.about("rows", "page.fault.no_tap")
    return float(value)


def look_kept(request: HttpRequest) -> Look:
    """How this browser last wanted to see a job."""
    other, seen = request.session.get("look") or (False, "outside")
    return Look(bool(other), "inside" if seen == "inside" else "outside")


def asked_of(request: HttpRequest, name: str) -> Asked:
    """A job as it stands, to be seen as this browser last wanted to.

    Raises:
        JobError: there is none of that name, or it cannot be read.
    """
    return replace(site_of(request).asked(name), look=look_kept(request))


def not_written(request: HttpRequest, name: str, error: JobError, typed: dict[str, str]) -> HttpResponse:
    """Say why nothing was written; a page that waits for an answer keeps what was typed in its boxes."""
    values: dict[str, Any] = {
        "job_name": name,
        "faults": error.faults,
        "is_conflict": False,
        "is_unreadable": False,
    }
    if isinstance(error, ChangedElsewhereError):
        values |= {"is_conflict": True, "version": version_of(error.text), "changed_by": error.by}
        values["differences"] = _differences(error.text, typed)
        values["is_unreadable"] = not _is_readable(error.text)
    if request.headers.get("HX-Request"):
        response = render(request, "not_written.html", values, status=409)
        response.headers["HX-Retarget"] = "#notice"
        response.headers["HX-Reswap"] = "innerHTML"
        return response
    values["posted"] = [(key, value) for key, value in request.POST.items() if key.startswith(BOX)]
    values["page_id"] = request.POST.get("page", "")
    return render(request, "not_written_page.html", values, status=409)


def _is_readable(text: str) -> bool:
    try:
        sheet_of(text)
    except JobError:
        return False
    return True


def _differences(text: str, typed: dict[str, str]) -> list[dict[str, str]]:
    try:
        sheet, changed = sheet_of(text), changed_boxes(text, typed)
    except JobError:
        return []
    return [
        {"name": sheet.name_of(path), "in_file": box.value, "here": typed[path]}
        for path, box in changed.items()
    ]
