"""The start page: the jobs of the folder with their open points, and a new job."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import paths_of, raw_data, standing_at
from hatchwright.judged import Status
from hatchwright.page.screen import Asked, ScreenView, screen
from hatchwright.said import said
from hatchwright.web.site import Site, site_of
from hatchwright.words.refusals import fault_sentences
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, line_text, other_side_said
from hatchwright.workflow.new_job import NEW_JOBS

EXAMPLE = "juniper.toml"
"""File name of the example job, which stands first in a list."""

WORST_LINES = 3
"""Causes that are named below the verdict of a job."""


Point = tuple[Status, str, tuple[str, ...]]
JobLine = dict[str, Any]
"""One job of the list: its name, title and side, and what it is about; the verdicts, each a status and one sentence,
of this side and of the other where both get the opening, none of a job that is not sound; the worst points, each the
status, words and codes of a cause, or of a fault; and how many more there are."""


@require_safe
def start(request: HttpRequest) -> HttpResponse:
    """The list."""
    return _list(request)


@require_POST
def new(request: HttpRequest) -> HttpResponse:
    """Begin a job and open it."""
    title, kind = request.POST.get("title", ""), request.POST.get("kind", NEW_JOBS[0])
    try:
        name = site_of(request).jobs.new(title, kind)
    except JobError as error:
        return _list(request, title=title, kind=kind, faults=error.faults, status=400)
    return redirect("job", name=name)


def _list(
    request: HttpRequest,
    *,
    title: str = "",
    kind: str = NEW_JOBS[0],
    faults: tuple[Fault, ...] = (),
    status: int = 200,
) -> HttpResponse:
    site = site_of(request)
    first = (site.first_job, EXAMPLE)
    names = sorted(site.jobs.names(), key=lambda name: (first.index(name) if name in first else 2, name))
    lines = [_line(site, name) for name in names]
    kinds = [(one, tell(said(f"new_job.{one}"))) for one in NEW_JOBS]
    values = {
        "folder": str(site.jobs.folder),
        "lines": lines,
        "title": title,
        "kind": kind,
        "kinds": kinds,
        "faults": faults,
    }
    return render(request, "start.html", values, status=status)


def _line(site: Site, name: str) -> JobLine:
    try:
        asked = site.asked(name)
        return _line_of(asked, _beside(asked.folder, asked.text))
    except JobError as error:  # of a file that has no entries, a fault is named by its line
        faults: list[Point] = [(Status.STOP, str(fault), ()) for fault in error.faults]
        return _job_line(name, name, "", tell(said("page.not_a_job")), [], faults)


def _beside(folder: Path, text: str) -> frozenset[tuple[str, int, int]]:
    """The files that a job reads its outlines from, as they are now: name, time [ns] and size [bytes]."""
    data = raw_data(text)
    named = {standing_at(data, path) for path in paths_of(data) if path.endswith(".file")}
    return frozenset(
        (path.name, (file := path.stat()).st_mtime_ns, file.st_size)
        for path in folder.iterdir()
        if path.name in named and path.is_file()
    )


@lru_cache(maxsize=500)
def _line_of(asked: Asked, beside: frozenset[tuple[str, int, int]]) -> JobLine:
    """Judged anew when its text or an outline beside it has changed."""
    view = screen(asked, drawn=False, with_other=True)
    name, verdict, unit = asked.name, view.verdict, view.unit
    points: list[Point] = []
    if verdict is None:
        for fault in view.faults:
            named = view.sheet.name_of(fault.field)
            told = said("page.label_of_fault", field=named, fault=fault_sentences(fault))
            points.append((Status.STOP, tell(told), ()))
        return _job_line(name, view.title, view.side, tell(said("page.not_sound")), [], points)
    points += [(line.status, line_text(line, unit), line.codes) for line in verdict.open_lines]
    if missing := verdict.to_enter:
        codes = tuple(dict.fromkeys(code for one in missing for code in one.codes))
        points.append((missing[0].status, tell(said("page.to_enter", n=len(missing))), codes))
    heads = [(verdict.status, tell(headline(verdict), unit))]
    if view.other:
        heads.append((view.other.status, tell(other_side_said(view.other), unit)))
    points.sort(key=lambda point: point[0].severity)
    return _job_line(name, view.title, view.side, _about(view), heads, points)


def _job_line(
    name: str, title: str, side: str, about: str, heads: list[tuple[Status, str]], points: list[Point]
) -> JobLine:
    worst, more = points[:WORST_LINES], len(points[WORST_LINES:])
    what = {"name": name, "title": title, "side": side, "about": about}
    return {**what, "heads": heads, "points": worst, "more": more}


def _about(view: ScreenView) -> str:
    aircraft = view.data.get("aircraft", {})
    registration = str(aircraft.get("registration") or "")
    what = said(
        "page.about" if registration else "page.about_unnamed",
        registration=registration,
        surface=str(aircraft.get("surface", "")),
        revision=str(view.data.get("revision", "A")),
        file=view.asked.name,
    )
    return tell(what)
