"""The print package of a job: made beside the page, which may be reloaded or left meanwhile, and handed out under one
key, so that all its files are of the same moment."""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from datetime import datetime
from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe
from msgspec.structs import asdict

from hatchwright.errors import Fault, JobError
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.page.made_papers import OFFERED, PIECES, MadeFile, PaperChoice, Written
from hatchwright.page.papers_version import papers_version
from hatchwright.page.screen import Asked
from hatchwright.web.lettering import address
from hatchwright.web.lettering import page_text as words
from hatchwright.web.long_work import LongWork, State, WorkKey
from hatchwright.web.site import KeptPapers, Site, site_of
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
    Written.CSV: ("text/csv; charset=utf-8", "page.kind.csv"),
    Written.PNG: ("image/png", "page.kind.not_to_scale"),
}
"""What a file is, for a browser and by the id of its words; in the order in which files are offered."""

_DRAWN = (Written.PDF, Written.SVG, Written.DXF)
_LONGEST_ENTRY = 40
_WAITS_S = 0.5
"""How long a page that asks how far its papers are waits for their end [s]."""


@require_safe
def papers(request: HttpRequest, name: str) -> HttpResponse:
    """The page of a job's papers as it stands; it begins their making, or finds the one that goes on or is done."""
    choice, site = _choice(request.GET), site_of(request)
    try:
        asked = site.asked(name)
        offered = {
            "sizes": PAPERS,
            "names": [(one, words(f"papername.{one}")) for one in OFFERED],
            "pieces": PIECES,
            "machines": machines_in(site.jobs.folder),
        }
    except JobError as error:
        return no_such_job(request, name, error)
    version = papers_version(asked, choice)
    if "create" in request.GET:  # the button: what was canceled or failed is begun anew
        _making(site, asked, choice, version, again=True)
        return redirect(_page(name, choice))
    work = _making(site, asked, choice, version)
    state = _state(request, name, version, choice, work)
    values = {"job_name": name, "choice": choice, "goes_on": work.state is State.GOING_ON, **state, **offered}
    return render(request, "papers.html", values)


@require_safe
def papers_state(request: HttpRequest, name: str) -> HttpResponse:
    """How far the papers of one version of a job are, 202 as long as they are being made; then what was made of it."""
    choice, version = _choice(request.GET), request.GET.get("version", "")
    work = _held(site_of(request), WorkKey(name, choice, version))
    is_on = work is not None and not work.ended(_WAITS_S)
    values = _state(request, name, version, choice, work)
    return render(request, "papers_state.html", values, status=202 if is_on else 200)


@require_POST
def cancel_papers(request: HttpRequest, name: str) -> HttpResponse:
    """End the making of papers."""
    choice = _choice(request.GET)
    if work := site_of(request).papers.get(WorkKey(name, choice, request.GET.get("version", ""))):
        work.cancel()
    return redirect(_page(name, choice))


@require_POST
def papers_again(request: HttpRequest, name: str) -> HttpResponse:
    """Make papers anew, of the job as it stands."""
    choice, site = _choice(request.GET), site_of(request)
    try:
        asked = site.asked(name)
        _making(site, asked, choice, papers_version(asked, choice), again=True)
    except JobError as error:
        return no_such_job(request, name, error)
    return redirect(_page(name, choice))


@require_safe
def paper(request: HttpRequest, name: str, key: str, file: str) -> HttpResponse:
    """Hand out one file of a set that was made."""
    made = next((one for one in site_of(request).made.get(key) or () if one.name == file), None)
    if made is None:
        raise Http404
    kind, _ = KINDS[made.written]
    headers = {"Content-Disposition": f'attachment; filename="{made.name}"'}
    return HttpResponse(made.content, content_type=kind, headers=headers)


def _held(site: Site, key: WorkKey) -> LongWork[KeptPapers] | None:
    """The making of papers, None where there is none or its files are kept no longer."""
    work = site.papers.get(key)
    is_lost = work and work.answer and work.answer.key and site.made.get(work.answer.key) is None
    return None if is_lost else work


def _making(
    site: Site, asked: Asked, choice: PaperChoice, version: str, *, again: bool = False
) -> LongWork[KeptPapers]:
    """The making of papers; begun where there is none, or its files are kept no longer."""
    key = WorkKey(asked.name, choice, version)
    again = again or _held(site, key) is None

    def make(work: LongWork[KeptPapers]) -> KeptPapers | None:
        stamp = datetime.now().astimezone()
        all_files = papers_for_page(asked, work, stamp=stamp, choice=choice)
        if all_files is None:
            return None
        made, files = all_files
        file_key = secrets.token_urlsafe(12) if files else ""
        if file_key:
            site.made.put(file_key, files)
        return KeptPapers(made, file_key, stamp)

    return site.papers.begun(key, make, again=again)


def _state(
    request: HttpRequest, name: str, version: str, choice: PaperChoice, work: LongWork[KeptPapers] | None
) -> dict[str, Any]:
    """What a page shows of one making: how far it is, what was made, or why nothing was."""
    query = urlencode({**_query(choice), "version": version}, doseq=True)
    values: dict[str, Any] = {
        "job_name": name,
        "page": _page(name, choice),
        "query": query,
        "state": str(work.state) if work else "gone",
        "work": work,
        "cancel": f"{address('papers-cancel', name=name)}?{query}",
        "again": f"{address('papers-again', name=name)}?{query}",
        "moved_on": "",
        "why": None,
        "faults": [],
        "kept": None,
    }
    try:
        asked = site_of(request).asked(name)
        text = asked.text
        values["moved_on"] = "" if papers_version(asked, choice) == version else words("page.papers_moved_on")
    except JobError as error:
        text = ""
        values["moved_on"] = words("page.papers_job_unread", why=error.faults[0].what)
    if work and isinstance(work.error, JobError):
        values["faults"] = _named(text, work.error.as_faults("papers"))
    elif work and work.error:
        values["why"] = work.error.as_fault("papers")
    if work and (kept := work.answer):
        values["kept"] = kept
        values["refusals"] = _named(text, kept.made.refusals)
        values["stamp"] = kept.stamp.strftime("%Y-%m-%d %H:%M")
        values["bundle"] = bundle_name(name)
        values["others"] = {side.side: _others(side.others) for side in kept.made.sides}
    return values


def _page(name: str, choice: PaperChoice) -> str:
    return f"{address('papers', name=name)}?{urlencode(_query(choice), doseq=True)}"


def _query(choice: PaperChoice) -> dict[str, Any]:
    return {key: value for key, value in asdict(choice).items() if value}


def _choice(asked: QueryDict) -> PaperChoice:
    """What a page asks for; what is not offered counts as not asked for."""
    paper, piece = asked.get("paper", ""), asked.get("piece", "")
    return PaperChoice(
        paper=paper if paper in PAPERS else PAPERS[0],
        bar_short=asked.get("bar_short", "")[:_LONGEST_ENTRY].strip(),
        bar_long=asked.get("bar_long", "")[:_LONGEST_ENTRY].strip(),
        only=tuple(name for name in OFFERED if name in asked.getlist("only")),
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


def _others(files: Iterable[MadeFile]) -> list[dict[str, Any]]:
    """Files for machines and other programs, and what each is good for."""
    order = list(KINDS)
    lines = []
    for file in sorted(files, key=lambda file: (order.index(file.written), file.name)):
        is_sketch = file.written in _DRAWN and not file.true_size
        good_for = words("page.kind.not_to_scale" if is_sketch else KINDS[file.written][1])
        lines.append({"file": file, "words": good_for})
    return lines
