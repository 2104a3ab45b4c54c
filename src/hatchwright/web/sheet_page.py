"""Codes of sheets: from the letters that somebody typed or a reader sent to the job, and the paper, that they name."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from hatchwright.page.coded_sheet import CodedSheet, coded_sheets
from hatchwright.web.lettering import address
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of
from hatchwright.web.troubles import trouble

_LONGEST_CODE = 60
_AT_THE_JOB = ("LAYOUT", "LABELS")
_AT_THE_SURVEY = ("SURVEY_SHEET", "SURVEY_DRAWING")
"""Papers whose page is that of the job, or of its survey, where readings are entered; of the carry card it is that of
its steps, of the others that of the papers."""


@require_safe
def typed_code(request: HttpRequest) -> HttpResponse:
    """Take what was typed into the box for codes."""
    typed = request.GET.get("code", "").strip()[:_LONGEST_CODE]
    return redirect("sheet", code=typed or "-")


@require_safe
def sheet(request: HttpRequest, code: str) -> HttpResponse:
    """Go to the job that has a sheet, or say that the sheet is not of the job as it stands."""
    found = coded_sheets(code[:_LONGEST_CODE], site_of(request).jobs)
    if not found:
        what = words("page.sheet.no_code" if found is None else "page.sheet.no_job")
        return trouble(request, 404, what, remedy=words("page.sheet.type_again"))
    if len(found) == 1 and found[0].is_current:
        return HttpResponseRedirect(_address(found[0]))
    return render(request, "sheet.html", {"sheets": [(one, _address(one)) for one in found]})


def _address(one: CodedSheet) -> str:
    if one.kind is None or one.kind.name in _AT_THE_JOB:
        return address("job", name=one.job_name)
    if one.kind.name in _AT_THE_SURVEY:
        return address("survey", name=one.job_name)
    if one.begins_with_step:
        return f"{address('steps', name=one.job_name)}?side={one.side.lower()}#step-{one.sheet}"
    return f"{address('papers', name=one.job_name)}#{one.side}-{one.kind}"
