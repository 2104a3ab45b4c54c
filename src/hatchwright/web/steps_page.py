"""The steps of one side, to which the code on a sheet of the carry card leads."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe
from msgspec.structs import replace

from hatchwright.page.screen import screen
from hatchwright.page.shown_steps import shown_steps
from hatchwright.web.job_page import asked_of
from hatchwright.web.troubles import opens_job


@require_safe
@opens_job()
def steps(request: HttpRequest, name: str) -> HttpResponse:
    """Show the steps of a side; the job itself where it has no such side, or is not sound."""
    asked, side = asked_of(request, name), request.GET.get("side", "").upper()
    for is_other in (False, True):
        look = replace(asked.look, other_side=is_other)
        view = screen(replace(asked, look=look), drawn=False, with_strength=False)
        if view.examination and view.side == side:
            values = {
                "job_name": name,
                "view": view,
                "units": view.unit,
                "steps": shown_steps(view.examination),
            }
            return render(request, "steps.html", values)
    return redirect("job", name=name)
