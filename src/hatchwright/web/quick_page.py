"""Quick answers: the list of questions, a page for each with its answer as one types, and the answer to print."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hatchwright.errors import EntryError, HatchwrightError
from hatchwright.page.quick_sheet import QuickSheet, quick_sheet
from hatchwright.units import Unit
from hatchwright.web.lettering import address
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of
from hatchwright.web.troubles import trouble
from hatchwright.web.typed import BOX, typed_in
from hatchwright.words.refusals import fault_sentences
from hatchwright.workflow.printing import PAPERS, paper_of
from hatchwright.workflow.quick.book import all_quick, quick
from hatchwright.workflow.quick.paper import QuickPaper

_UNITS: tuple[Unit, ...] = ("in", "mm")


@require_safe
def questions(request: HttpRequest) -> HttpResponse:
    """Every question there is."""
    return render(request, "quick.html", {"answers": all_quick()})


@require_safe
def question(request: HttpRequest, name: str) -> HttpResponse:
    """The boxes of a question, with its answer where enough was entered."""
    return render(request, "quick_question.html", _values(request, name))


@require_safe
def answered(request: HttpRequest, name: str) -> HttpResponse:
    """The answer alone, as one types."""
    return render(request, "quick_answer.html", _values(request, name))


@require_safe
def quick_paper(request: HttpRequest, name: str, which: str) -> HttpResponse:
    """The answer as a page to print, or its outline at true size."""
    sheet, asked = _sheet(request, name), request.GET
    if sheet.answer is None:
        return trouble(request, 400, words("quick.page.no_answer"), remedy=words("page.go_back"))
    size = asked.get("paper", "")
    paper = paper_of(size if size in PAPERS else PAPERS[0])
    stamp = datetime.now().astimezone()
    printed = QuickPaper(sheet.one, typed_in(asked), sheet.answer, sheet.unit, stamp, paper)
    try:
        made = {"page": printed.page, "outline": printed.outline}.get(which, lambda: None)()
    except HatchwrightError as error:
        return trouble(request, 503, words("page.not_written"), remedy=f"{error}.")
    if made is None:
        raise Http404
    headers = {"Content-Disposition": f'attachment; filename="{made.name}"'}
    return HttpResponse(made.content, content_type="application/pdf", headers=headers)


def _sheet(request: HttpRequest, name: str) -> QuickSheet:
    try:
        one = quick(name)
    except EntryError:
        raise Http404 from None
    unit: Unit = "mm" if request.GET.get("units") == "mm" else "in"
    return quick_sheet(one, typed_in(request.GET), unit=unit, shop=site_of(request).shop)


def _values(request: HttpRequest, name: str) -> dict[str, Any]:
    sheet = _sheet(request, name)
    typed = {f"{BOX}{box.path}": box.value for box in sheet.boxes if box.value.strip()}
    query = urlencode({**typed, "units": sheet.unit})
    papers = [
        (
            words(f"quick.page.print_{which}", paper=paper.capitalize()),
            f"{_paper(name, which)}?{query}&paper={paper}",
        )
        for which in ("page", *(("outline",) if sheet.answer and sheet.answer.drawn else ()))
        for paper in PAPERS
    ]
    return {
        "sheet": sheet,
        "units": sheet.unit,
        "all_units": _UNITS,
        "query": query,
        "papers": papers if sheet.answer else [],
        "said": {
            path: [" ".join(map(fault_sentences, faults)) or echo, bool(faults)]
            for path, (echo, faults) in sheet.said.items()
        },
    }


def _paper(name: str, which: str) -> str:
    return address("quick-paper", name=name, which=which)
