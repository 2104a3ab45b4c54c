"""A job beside one of its earlier states: what differs, and the earlier one put back as a step of its own."""

from __future__ import annotations

from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from hatchwright.errors import Fault, JobError
from hatchwright.page.compared import differences
from hatchwright.web.hand import hand_of_one
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of
from hatchwright.web.troubles import opens_job
from hatchwright.workflow.job_folder import version_of


@require_http_methods(["GET", "HEAD", "POST"])
@opens_job()
def compare(request: HttpRequest, name: str) -> HttpResponse:
    """Show what differs, or put the earlier state back and open the job."""
    jobs = site_of(request).jobs
    now, states = jobs.read(name), jobs.earlier_states(name)
    posted = request.POST if request.method == "POST" else request.GET
    picked = next(
        (one for one in states if one.number == posted.get("state", "")), states[0] if states else None
    )
    faults, status = tuple[Fault, ...](), 200
    if request.method == "POST" and (picked is None or picked.number != posted.get("state", "")):
        faults, status = JobError.about("state", "page.compare.gone").faults, 409
    elif request.method == "POST" and picked is not None:
        earlier = picked.text()
        hand = hand_of_one(request)
        try:
            jobs.enter(name, hand, lambda _: earlier)
        except JobError as error:
            faults, status = error.faults, 409
        else:
            return redirect("job", name=name)
    differ = None
    try:
        differ = differences(picked.text(), now) if picked else None
    except JobError as error:  # one of the two is no TOML: it can be put back all the same
        faults = (*faults, *error.faults)
    values = {
        "job_name": name,
        "version": version_of(now),
        "states": [(one.number, words("page.compare.state", at=_told(one.kept_s))) for one in states],
        "picked": picked.number if picked else "",
        "differ": differ,
        "faults": faults,
    }
    return render(request, "compare.html", values, status=status)


def _told(at_s: float) -> str:
    return datetime.fromtimestamp(at_s).strftime("%Y-%m-%d %H:%M:%S")
