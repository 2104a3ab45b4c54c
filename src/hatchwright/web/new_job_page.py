"""A new job: its kind is picked by a picture, then the few figures that the picture asks for are entered."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from hatchwright.errors import Fault, JobError
from hatchwright.page.first_figures import FirstFigures, tile_picture
from hatchwright.said import said
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of
from hatchwright.web.troubles import trouble
from hatchwright.web.typed import BOX, typed_in
from hatchwright.words.tell import tell
from hatchwright.workflow.new_job import NEW_JOBS, SHAPES, SIDES, UNITS, Start, shapes_of

_SVG = "image/svg+xml"


def choices() -> dict[str, object]:
    """What there is to pick from: kinds with their names and shapes, shapes, units and sides."""
    return {
        "kinds": [(kind, tell(said(f"new_job.{kind}")), shapes_of(kind)) for kind in NEW_JOBS],
        "shapes": SHAPES,
        "picks": (
            (
                "shape",
                words("page.new.shape"),
                [(one, tell(said(f"page.new.shape.{one}"))) for one in SHAPES],
            ),
            ("units", words("page.new.units"), [(one, tell(said(f"page.new.units.{one}"))) for one in UNITS]),
            ("side", words("page.new.side"), [(one, tell(said(f"page.new.side.{one}"))) for one in SIDES]),
        ),
    }


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Ask for the figures of a job of one kind, or begin it and open it."""
    posted = request.POST if request.method == "POST" else request.GET
    try:
        first = _first(posted)
    except JobError as error:
        return trouble(request, 400, words("page.new.cannot"), faults=error.faults)
    jobs = site_of(request).jobs
    if request.method != "POST":
        named = tell(said(f"new_job.{first.start.kind}"))
        return _asked(request, first, title=jobs.free_title(named))
    title = request.POST.get("title", "")
    try:
        name = jobs.new(title, first.text())
    except JobError as error:
        if any(fault.field == "folder" for fault in error.faults):
            return trouble(request, 404, words("page.no_list"), faults=error.faults)
        return _asked(request, first, title=title, faults=error.faults)
    return redirect(_then(request) or "job", name=name)


@require_safe
def picture(request: HttpRequest) -> HttpResponse:
    """The picture of a kind; where figures are asked for, as the job is by now, with its letters."""
    try:
        first = _first(request.GET)
    except JobError as error:
        return trouble(request, 400, words("page.new.cannot"), faults=error.faults)
    drawn = first.picture() if "letters" in request.GET else _tile(first.start.kind)
    return HttpResponse(drawn, content_type=_SVG)


_tile = cache(tile_picture)


def _first(posted: QueryDict) -> FirstFigures:
    """What was picked and typed; a shape that the kind has not got gives way to its usual one."""
    kind, shape = posted.get("kind", NEW_JOBS[0]), posted.get("shape", "")
    if kind in NEW_JOBS and shape in SHAPES and shape not in shapes_of(kind):
        shape = ""
    start = Start(kind, shape, posted.get("units", UNITS[0]), posted.get("side", ""))
    return FirstFigures(start, typed_in(posted))


def _asked(
    request: HttpRequest, first: FirstFigures, *, title: str, faults: Iterable[Fault] = ()
) -> HttpResponse:
    by_box, others = first.faults_by_box(faults)
    picked = request.POST.get("shape", request.GET.get("shape", ""))
    values = {
        "first": first,
        "kind_name": tell(said(f"new_job.{first.start.kind}")),
        "title": title,
        "by_box": by_box,
        "faults": others,
        "box": BOX,
        "then": _then(request),
        "is_other_shape": picked in SHAPES and picked != first.start.shape,
        "address_of_picture": f"?{_query(first)}",
    }
    return render(request, "new_job.html", values, status=400 if by_box or others else 200)


def _then(request: HttpRequest) -> str:
    """Which page of the new job is opened first: its survey, or "" for its own."""
    return "survey" if "survey" in (request.POST.get("then"), request.GET.get("then")) else ""


def _query(first: FirstFigures) -> str:
    start = first.start
    query = QueryDict(mutable=True)
    query.update({"kind": start.kind, "shape": start.shape, "units": start.units, "letters": "yes"})
    query.update({f"{BOX}{path}": value for path, value in first.typed.items() if value.strip()})
    return query.urlencode()
