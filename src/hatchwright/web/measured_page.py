"""What was measured of a job beside what was drawn, and what was found at each later look."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hatchwright.errors import HatchwrightError
from hatchwright.page.measured import measured_tables
from hatchwright.web.job_page import asked_of
from hatchwright.web.lettering import page_text as words
from hatchwright.web.troubles import opens_job, trouble


@require_safe
@opens_job()
def measured(request: HttpRequest, name: str) -> HttpResponse:
    """The tables of the as-built sheet and of the looks; what is wrong with the job where it is not sound."""
    asked = asked_of(request, name)
    try:
        tables = measured_tables(asked)
    except HatchwrightError as error:
        return trouble(request, 409, words("page.measured.refused"), faults=error.as_faults("job"))
    return render(request, "measured.html", {"job_name": name, "tables": tables})
