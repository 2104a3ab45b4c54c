"""A new job from one that there is: the other side, or the same side of another aircraft."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from hatchwright.errors import Fault, JobError
from hatchwright.job.another_job import on_another_aircraft, on_the_other_side
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.web.site import site_of
from hatchwright.web.troubles import opens_job

_WAYS: dict[str, Callable[[str], str]] = {"side": on_the_other_side, "aircraft": on_another_aircraft}


@require_http_methods(["GET", "HEAD", "POST"])
@opens_job()
def another(request: HttpRequest, name: str) -> HttpResponse:
    """Ask which, or write the new job and open it."""
    jobs = site_of(request).jobs
    text = jobs.read(name)
    try:
        data = raw_data(text)
    except JobError:
        return redirect("text", name=name)
    ways = [way for way in _WAYS if way != "side" or standing_at(data, "aircraft.side") in ("left", "right")]
    title, way, faults = jobs.free_title(str(data.get("title") or name)), ways[0], tuple[Fault, ...]()
    if request.method == "POST":
        title, way = request.POST.get("title", ""), request.POST.get("way", "")
        try:
            return redirect("job", name=jobs.new(title, _WAYS[way if way in ways else ways[-1]](text)))
        except JobError as error:
            faults = error.faults
    values = {"job_name": name, "title": title, "ways": ways, "way": way, "faults": faults}
    return render(request, "another.html", values, status=400 if faults else 200)
