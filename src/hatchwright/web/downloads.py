"""The papers of a job, made when asked for and handed out under one key, so that all are of the same moment."""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from dataclasses import asdict
from datetime import datetime
from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hatchwright.errors import Fault, HatchwrightError, JobError
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.page.made_papers import PIECES, MadePapers, PaperChoice, Written
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of, waiting_for
from hatchwright.web.troubles import no_such_job
from hatchwright.web.workers import bundle_name, papers_for_page
from hatchwright.workflow.machines import machines_in
from hatchwright.workflow.printing import PAPERS

KINDS = {
    Written.PDF: ("application/pdf", "page.kind.pdf"),
    Written.SVG: ("image/svg+xml", "page.kind.svg"),
    Written.DXF: ("image/vnd.dxf", "page.kind.dxf"),
    Written.NGC: ("text/plain; charset=us-ascii", "page.kind.ngc"),
    Written.THREE_MF: ("model/3mf", "page.kind.3mf"),
    Written.TXT: ("text/plain; charset=utf-8", "page.kind.txt"),
    Written.ZIP: ("application/zip", "page.kind.zip"),
}
"""What a file is, for a browser and by the id of its words; in the order in which files are offered."""

_DRAWN = (Written.PDF, Written.SVG, Written.DXF)
_LONGEST_ENTRY = 40


@require_safe
def papers(request: HttpRequest, name: str) -> HttpResponse:
    """The page of a job's papers; it asks for the papers themselves once it is shown, as they take some seconds."""
    if request.headers.get("HX-Request"):
        return _made(request, name)
    choice, folder = _choice(request.GET), site_of(request).jobs
    try:
        folder.read(name)
        offered = {"sizes": PAPERS, "pieces": PIECES, "machines": machines_in(folder.folder)}
    except JobError as error:
        return no_such_job(request, name, error)
    query = urlencode({key: value for key, value in asdict(choice).items() if value})
    return render(request, "papers.html", {"job_name": name, "choice": choice, "query": query, **offered})


def _made(request: HttpRequest, name: str) -> HttpResponse:
    """The papers themselves, or why there are none; who leaves the page ends their making."""
    stamp, site, text = datetime.now().astimezone(), site_of(request), ""
    try:
        asked = site.asked(name)
        text = asked.text
        made = papers_for_page(asked, waiting_for(request), stamp=stamp, choice=_choice(request.GET))
    except HatchwrightError as error:
        is_unsound = isinstance(error, JobError)
        title = words("page.no_paper_unsound" if is_unsound else "page.no_paper")
        faults = _named(text if is_unsound else "", error.as_faults("papers"))
        return render(request, "papers_refused.html", {"title": title, "faults": faults})
    if made is None:
        return HttpResponse(status=204)
    key = secrets.token_urlsafe(12) if made.files else ""
    if key:
        site.made.put(key, made.files)
    values = {
        "job_name": name,
        "made": made,
        "refusals": _named(text, made.refusals),
        "stamp": stamp.strftime("%Y-%m-%d %H:%M"),
        "key": key,
        "bundle": bundle_name(name),
        "sides": _by_side(made),
    }
    return render(request, "papers_made.html", values)


@require_safe
def paper(request: HttpRequest, name: str, key: str, file: str) -> HttpResponse:
    """Hand out one file of a set that was made."""
    made = next((one for one in site_of(request).made.get(key) or () if one.name == file), None)
    if made is None:
        raise Http404
    kind, _ = KINDS[made.written]
    headers = {"Content-Disposition": f'attachment; filename="{made.name}"'}
    return HttpResponse(made.content, content_type=kind, headers=headers)


def _choice(asked: QueryDict) -> PaperChoice:
    """What a page asks for; what is not offered counts as not asked for."""
    paper, piece = asked.get("paper", ""), asked.get("piece", "")
    return PaperChoice(
        paper=paper if paper in PAPERS else PAPERS[0],
        bar_short=asked.get("bar_short", "")[:_LONGEST_ENTRY].strip(),
        bar_long=asked.get("bar_long", "")[:_LONGEST_ENTRY].strip(),
        piece=piece if piece in PIECES else "",
        printable=bool(asked.get("printable")),
        machine=asked.get("machine", ""),
    )


def _named(text: str, faults: Iterable[Fault]) -> list[tuple[str, Fault]]:
    """Faults with what the page calls the entry of each; as they name it themselves where it has no such entry."""
    try:
        sheet = sheet_of(text)
    except JobError:
        return [(fault.field, fault) for fault in faults]
    return [(sheet.name_of(fault.field), fault) for fault in faults]


def _by_side(made: MadePapers) -> dict[str, list[dict[str, Any]]]:
    """The files of each side by the word for it, PDF first, and what each is good for."""
    order = list(KINDS)
    sides: dict[str, list[dict[str, Any]]] = {"LEFT": [], "RIGHT": [], "CENTER": []}
    for file in sorted(made.files, key=lambda file: (order.index(file.written), file.name)):
        is_sketch = file.written in _DRAWN and not file.true_size
        good_for = words("page.kind.not_to_scale" if is_sketch else KINDS[file.written][1])
        line = {"name": file.name, "words": good_for, "size_kb": max(1, len(file.content) // 1024)}
        if file.side:  # a file for all of the job has a place of its own
            sides[file.side.upper()].append(line)
    return {side: lines for side, lines in sides.items() if lines}
