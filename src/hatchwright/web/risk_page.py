"""The risk of a job: chances, culprits and gains, and the scatter of its own readings entered."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import HatchwrightError
from hatchwright.page.risk_sheet import STEP, risk_view, with_own_scatter, with_trial_scatter
from hatchwright.search.risk.simulate import SEED
from hatchwright.web.job_page import asked_of, entered
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of
from hatchwright.web.troubles import opens_job, trouble
from hatchwright.workflow.job_folder import version_of

_LONGEST_SEED = 9


@require_safe
@opens_job()
def risk(request: HttpRequest, name: str) -> HttpResponse:
    """The risk as it stands, simulated where a seed is sent; what is wrong with the job where it is not sound."""
    asked, sent = asked_of(request, name), request.GET.get("seed", "")
    is_seed = sent.isascii() and sent.isdigit() and len(sent) <= _LONGEST_SEED
    try:
        view = risk_view(asked, is_simulated=is_seed, seed=int(sent) if is_seed else SEED)
    except HatchwrightError as error:
        return trouble(request, 409, words("page.risk.refused"), faults=error.as_faults("job"))
    values = {
        "job_name": name,
        "view": view,
        "version": version_of(asked.text),
        "is_no_seed": bool(sent) and not is_seed,
    }
    return render(request, "risk.html", values)


@require_POST
def enter_scatter(request: HttpRequest, name: str) -> HttpResponse:
    """Enter the scatter of the job's own readings, or of a trial sheet that is sent, as a step that undo takes back."""
    asked, sheet = site_of(request).asked(name), request.FILES.get("trial")

    def change(text: str) -> str:
        if "of" not in request.POST:
            return with_own_scatter(text, asked)
        return with_trial_scatter(
            text, asked, sheet.read() if sheet else b"", (sheet.name or "") if sheet else ""
        )

    return entered(request, name, change, then=lambda: "?at=scatter", step=STEP)
