"""The start page: the jobs of the folder with their open points, and a new job."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import wraps
from urllib.parse import quote

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe
from msgspec import Struct

from hatchwright.errors import JobError
from hatchwright.page.job_line import JobLine
from hatchwright.said import said
from hatchwright.web.lettering import page_text as words
from hatchwright.web.new_job_page import choices
from hatchwright.web.site import site_of
from hatchwright.web.troubles import trouble
from hatchwright.words.tell import tell

EXAMPLE = "juniper.toml"
"""File name of the example job, which stands first in a list."""

MOST_AT_ONCE = 40
"""Jobs that a page may ask for at once while they are being judged."""


View = Callable[[HttpRequest], HttpResponse]


class Row(Struct, frozen=True):
    """A job as it stands in the list.

    Args:
        title: or the file name while it is not known.
        about: what it is about, or why that is not known.
        lacks: what is still to come: "all", "strength" or "".
    """

    name: str
    address: str
    title: str
    about: str
    line: JobLine
    lacks: str


def _lists_jobs(view: View) -> View:
    """A view of the folder: it says so where that is gone or cannot be read."""

    @wraps(view)
    def answered(request: HttpRequest) -> HttpResponse:
        try:
            return view(request)
        except JobError as error:
            return trouble(request, 404, words("page.no_list"), faults=error.faults)

    return answered


@require_safe
@_lists_jobs
def start(request: HttpRequest) -> HttpResponse:
    """The list, and the kinds of jobs to begin with."""
    site = site_of(request)
    first = (site.first_job, EXAMPLE)
    rows = _rows(site.job_list.lines())
    rows.sort(key=lambda row: first.index(row.name) if row.name in first else len(first))
    values = {
        "folder": str(site.jobs.folder),
        "rows": rows,
        "at_once": MOST_AT_ONCE,
        "left": sum(bool(row.lacks) for row in rows),
        **choices(),
    }
    return render(request, "start.html", values)


@require_safe
@_lists_jobs
def lines(request: HttpRequest) -> HttpResponse:
    """The rows of some jobs, as far as they are judged by now."""
    named = request.GET.getlist("name")[:MOST_AT_ONCE]
    return render(request, "job_lines.html", {"rows": _rows(site_of(request).job_list.lines(named))})


def _rows(lines: Mapping[str, JobLine | None]) -> list[Row]:
    form = reverse("job", kwargs={"name": "*"})  # once: it takes longer than all else of a row
    return [_row(name, form.replace("*", quote(name)), line) for name, line in lines.items()]


def _row(name: str, address: str, line: JobLine | None) -> Row:
    if line is None:
        return Row(name, address, name, tell(said("page.line_awaited")), JobLine(""), "all")
    named = {"registration": line.registration, "surface": line.surface, "revision": line.revision}
    about = said(line.about, **named, file=name) if line.revision else said(line.about)
    return Row(
        name, address, line.title or name, tell(about), line, "strength" if line.lacks_strength else ""
    )
