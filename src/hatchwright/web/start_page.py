"""The start page: the jobs of the folder with their open points, and a new job."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import paths_of, raw_data, standing_at
from hatchwright.judged import Status
from hatchwright.page.screen import ScreenView, screen
from hatchwright.said import said
from hatchwright.tables.table import ShopTables
from hatchwright.verdict import Verdict
from hatchwright.web.lettering import page_text
from hatchwright.web.site import Site, site_of
from hatchwright.words.refusals import fault_sentences
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, line_text, other_side_said

EXAMPLE = "alder.toml"
"""File name of the example job, which stands first in a list."""

WORST_LINES = 3
"""Causes that are named below the verdict of a job."""


@dataclass(frozen=True, slots=True)
class Point:
    """One cause in one line, or one fault of a job that is not sound."""

    text: str
    status: Status = Status.STOP
    codes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class JobLine:
    """One job of the list: what it is, its verdict, and the worst of it.

    Args:
        verdict: in one sentence, "" where there is none.
        status: of the verdict.
        other: the same of the other side, where both get the opening.
        other_status: of that.
        points: the worst lines, or the faults of a job that is not sound.
        more: how many further ones there are.
    """

    name: str
    title: str
    side: str = ""
    about: str = ""
    verdict: str = ""
    status: Status = Status.UNKNOWN
    other: str = ""
    other_status: Status = Status.UNKNOWN
    points: tuple[Point, ...] = ()
    more: int = 0


@require_safe
def start(request: HttpRequest) -> HttpResponse:
    """The list."""
    return _list(request)


@require_POST
def new(request: HttpRequest) -> HttpResponse:
    """Begin a job and open it."""
    title = request.POST.get("title", "")
    try:
        name = site_of(request).jobs.new(title)
    except JobError as error:
        return _list(request, title=title, faults=error.faults, status=400)
    return redirect("job", name=name)


def _list(
    request: HttpRequest, *, title: str = "", faults: tuple[Fault, ...] = (), status: int = 200
) -> HttpResponse:
    site = site_of(request)
    first = (site.first_job, EXAMPLE)
    names = sorted(site.jobs.names(), key=lambda name: (first.index(name) if name in first else 2, name))
    lines = [_line(site, name) for name in names]
    values = {"folder": str(site.jobs.folder), "lines": lines, "title": title, "faults": faults}
    return render(request, "start.html", values, status=status)


def _line(site: Site, name: str) -> JobLine:
    folder = site.jobs.folder
    try:
        text = site.jobs.read(name)
        return _line_of(folder, name, text, site.shop, _beside(folder, text))
    except JobError as error:
        return _refused(name, error.faults)


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
def _line_of(
    folder: Path, name: str, text: str, own: ShopTables | None, beside: frozenset[tuple[str, int, int]]
) -> JobLine:
    """Judged anew when its text or an outline beside it has changed."""
    view = screen(text, folder, name, shop=own, drawn=False, with_other=True)
    verdict = view.verdict
    return _refused(name, view.faults, view) if verdict is None else _judged(name, view, verdict)


def _judged(name: str, view: ScreenView, verdict: Verdict) -> JobLine:
    lines = sorted(verdict.open_lines, key=lambda line: line.status.severity)
    told = [Point(line_text(line, view.unit), line.status, line.codes) for line in lines]
    if missing := verdict.to_enter:
        codes = tuple(dict.fromkeys(code for one in missing for code in one.codes))
        told.append(Point(tell(said("page.to_enter", n=len(missing))), missing[0].status, codes))
    points = tuple(sorted(told, key=lambda point: point.status.severity))
    return JobLine(
        name,
        view.title,
        view.side,
        _about(view),
        tell(headline(verdict), view.unit),
        verdict.status,
        tell(other_side_said(view.other), view.unit) if view.other else "",
        view.other.status if view.other else Status.UNKNOWN,
        points[:WORST_LINES],
        len(points[WORST_LINES:]),
    )


def _about(view: ScreenView) -> str:
    aircraft = view.data.get("aircraft", {})
    registration = aircraft.get("registration")
    what = said(
        "page.about" if registration else "page.about_unnamed",
        registration=str(registration or ""),
        surface=str(aircraft.get("surface", "")),
        revision=str(view.data.get("revision", "A")),
        file=view.name,
    )
    return tell(what)


def _refused(name: str, faults: tuple[Fault, ...], view: ScreenView | None = None) -> JobLine:
    points = tuple(Point(_fault_said(fault, view)) for fault in faults)
    return JobLine(
        name,
        view.title if view else name,
        view.side if view else "",
        tell(said("page.not_sound") if view else said("page.not_a_job")),
        points=points[:WORST_LINES],
        more=len(points[WORST_LINES:]),
    )


def _fault_said(fault: Fault, view: ScreenView | None) -> str:
    """A fault by the name that its entry has on the page; of a file that has no entries, by its line."""
    if view is None:
        return str(fault)
    return page_text(
        "page.label_of_fault", field=view.sheet.name_of(fault.field), fault=fault_sentences(fault)
    )
