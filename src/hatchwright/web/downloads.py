"""The papers of a job, made when asked for and handed out under one key, so that all are of the same moment."""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import datetime
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hatchwright.errors import Fault, JobError
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.page.made_papers import PIECES, MadeFile, MadePapers, PaperChoice, Written, file_named
from hatchwright.web.lettering import page_text as words
from hatchwright.web.papers_worker import bundle_name, papers_for_page
from hatchwright.web.site import Site, site_of
from hatchwright.web.troubles import trouble
from hatchwright.web.worker import WorkerError
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


@dataclass(frozen=True, slots=True)
class FileLine:
    """One file as it is offered."""

    name: str
    words: str
    size_kb: int


@require_safe
async def papers(request: HttpRequest, name: str) -> HttpResponse:
    """The page of a job's papers; it asks for the papers themselves once it is shown, as they take some seconds."""
    if request.headers.get("HX-Request"):
        return await _made(request, name)
    choice, folder = _choice(request.GET), site_of(request).jobs
    try:
        folder.read(name)
        offered = {"sizes": PAPERS, "pieces": PIECES, "machines": machines_in(folder.folder)}
    except JobError as error:
        return trouble(request, 404, words("page.cannot_open"), faults=error.faults)
    query = urlencode({key: value for key, value in asdict(choice).items() if value})
    return render(request, "papers.html", {"job_name": name, "choice": choice, "query": query, **offered})


async def _made(request: HttpRequest, name: str) -> HttpResponse:
    """The papers themselves, or why there are none; who leaves the page cancels this, and with it the making."""
    stamp, site, text = datetime.now().astimezone(), site_of(request), ""
    try:
        text, folder = site.jobs.read(name), site.jobs.folder
        choice = _choice(request.GET)
        made = await papers_for_page(text, folder, name, stamp=stamp, choice=choice, shop=site.shop)
    except JobError as error:
        title = words("page.no_paper_unsound")
        told = {"title": title, "faults": _named(text, error.faults)}
        return render(request, "papers_refused.html", told)
    except WorkerError as error:
        told = {"title": words("page.no_paper"), "faults": _named("", (error.as_fault("papers"),))}
        return render(request, "papers_refused.html", told)
    values = {
        "job_name": name,
        "made": made,
        "refusals": _named(text, made.refusals),
        "stamp": stamp.strftime("%Y-%m-%d %H:%M"),
        "key": _keep(site, made.files) if made.files else "",
        "bundle": bundle_name(name),
        "sides": _by_side(made),
    }
    return render(request, "papers_made.html", values)


@require_safe
def paper(request: HttpRequest, name: str, key: str, file: str) -> HttpResponse:
    """Hand out one file of a set that was made."""
    made = file_named(site_of(request).made.get(key) or (), file)
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


def _keep(site: Site, files: tuple[MadeFile, ...]) -> str:
    key = secrets.token_urlsafe(12)
    site.made.put(key, files)
    return key


def _words(file: MadeFile) -> str:
    """What a file is good for."""
    if file.written in _DRAWN and not file.true_size:
        return words("page.kind.not_to_scale")
    return words(KINDS[file.written][1])


def _by_side(made: MadePapers) -> dict[str, list[FileLine]]:
    """The files of each side by the word for it, PDF first."""
    order = list(KINDS)
    sorted_files = sorted(made.files, key=lambda file: (order.index(file.written), file.name))
    sides: dict[str, list[FileLine]] = {}
    for side in ("left", "right", "center"):
        lines = [
            FileLine(file.name, _words(file), max(1, len(file.content) // 1024))
            for file in sorted_files
            if file.side == side
        ]
        if lines:
            sides[side.upper()] = lines
    return sides
