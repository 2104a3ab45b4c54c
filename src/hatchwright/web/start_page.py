"""The start page: the jobs of the folder with their open points, and a new job."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import Fault, JobError
from hatchwright.judged import Status
from hatchwright.page.screen import ScreenView, screen
from hatchwright.tables.table import ShopTables
from hatchwright.web.folder import jobs, shop
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, line_text

EXAMPLE = "alder.toml"
"""File name of the example job, which stands first in a list."""

_MOST_POINTS = 4


@dataclass(frozen=True, slots=True)
class JobLine:
    """One job of the list: what it is, and what is open in it."""

    name: str
    title: str
    side: str = ""
    about: str = ""
    counts: dict[Status, int] = field(default_factory=dict)
    points: tuple[str, ...] = ()
    more: int = 0

    @property
    def must_look(self) -> bool:
        """Whether there is anything but answers that pass."""
        return any(count for status, count in self.counts.items() if status is not Status.PASS)


@require_safe
def start(request: HttpRequest) -> HttpResponse:
    """The list."""
    return _list(request)


@require_POST
def new(request: HttpRequest) -> HttpResponse:
    """Begin a job and open it."""
    title = request.POST.get("title", "")
    try:
        name = jobs().new(title)
    except JobError as error:
        return _list(request, title=title, faults=error.faults, status=400)
    return HttpResponseRedirect(reverse("job", kwargs={"name": name}))


def _list(
    request: HttpRequest, *, title: str = "", faults: tuple[Fault, ...] = (), status: int = 200
) -> HttpResponse:
    first = (settings.FIRST_JOB, EXAMPLE)
    names = sorted(jobs().names(), key=lambda name: (first.index(name) if name in first else 2, name))
    lines = [_line(name) for name in names]
    values = {"folder": str(jobs().folder), "lines": lines, "title": title, "faults": faults}
    return render(request, "start.html", values, status=status)


def _line(name: str) -> JobLine:
    try:
        return _line_of(jobs().folder, name, jobs().read(name), shop())
    except JobError as error:
        return _refused(name, error.faults)


@lru_cache(maxsize=500)
def _line_of(folder: Path, name: str, text: str, own: ShopTables | None) -> JobLine:
    view = screen(text, folder, name, shop=own, drawn=False)
    return _judged(name, view) if view.is_sound else _refused(name, view.faults, view)


def _judged(name: str, view: ScreenView) -> JobLine:
    points = _points(view)
    return JobLine(
        name,
        view.title,
        view.side,
        _about(view),
        view.counts,
        tuple(points[:_MOST_POINTS]),
        len(points[_MOST_POINTS:]),
    )


def _points(view: ScreenView) -> list[str]:
    """The verdict, then each cause that holds work back, in one line."""
    verdict, unit = view.verdict, view.unit
    if verdict is None:
        return []
    return [
        tell(headline(verdict), unit),
        *(line_text(line, unit) for line in verdict.open_lines if line.status.holds_back),
    ]


def _about(view: ScreenView) -> str:
    aircraft = view.data.get("aircraft", {})
    parts = (
        aircraft.get("registration"),
        f"{aircraft.get('surface', '')} skin",
        f"revision {view.data.get('revision', 'A')}",
        view.name,
    )
    return ", ".join(str(part) for part in parts if part)


def _refused(name: str, faults: tuple[Fault, ...], view: ScreenView | None = None) -> JobLine:
    points = tuple(str(fault) for fault in faults)
    return JobLine(
        name,
        view.title if view else name,
        view.side if view else "",
        "not sound yet: entries to mend" if view else "this file cannot be read as a job",
        points=points[:_MOST_POINTS],
        more=len(points[_MOST_POINTS:]),
    )
