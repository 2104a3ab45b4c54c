"""The print of a fleet: made in worker processes beside the page, which may be reloaded or left meanwhile."""

from __future__ import annotations

import hashlib
import os
import secrets
from datetime import datetime
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe
from msgspec import Struct
from msgspec.structs import asdict

from hatchwright.errors import HatchwrightError
from hatchwright.page.fleet_board import job_names
from hatchwright.page.made_papers import MadeFile
from hatchwright.said import Said
from hatchwright.search.task_workers import in_processes
from hatchwright.web.fleet_page import fleets_of
from hatchwright.web.lettering import address
from hatchwright.web.lettering import page_text as words
from hatchwright.web.long_work import LongWork, State, WorkKey
from hatchwright.web.site import KeptSet, site_of
from hatchwright.web.troubles import trouble
from hatchwright.workflow.fleet_print import fleet_print
from hatchwright.workflow.printing import PAPERS, paper_of

_WAITS_S = 0.5
"""How long a page that asks how far a print is waits for its end [s]."""
_WORKERS = max(1, min(4, os.cpu_count() or 1))
"""More take memory and let the page wait. Own choice, no source [-]."""


_LONGEST_ENTRY = 40


class SetChoice(Struct, frozen=True):
    """How a print is asked for: the paper, and what its two check bars measured on this printer, "" for true."""

    paper: str
    bar_short: str = ""
    bar_long: str = ""

    @property
    def query(self) -> dict[str, str]:
        """The same as the address has it."""
        return {name: value for name, value in asdict(self).items() if value}


class _Stopped(Exception):
    """Nobody waits for it any more."""


@require_safe
def fleet_printed(request: HttpRequest, name: str) -> HttpResponse:
    """The page of a print; it begins one, or finds the one that goes on or is done."""
    choice = _choice(request)
    try:
        version = _version(request, name)
        title = fleets_of(request).fleet(name).title
    except HatchwrightError as error:
        return trouble(request, 404, words("page.fleet.unread"), faults=error.as_faults("fleet"))
    work = _begun(request, name, choice, version, again="again" in request.GET)
    if "again" in request.GET:
        return redirect(_page(name, choice))
    values = {"title": title, "sizes": PAPERS, "goes_on": work.state is State.GOING_ON}
    return render(request, "fleet_print.html", {**values, **_state(request, name, choice, version)})


@require_safe
def fleet_print_state(request: HttpRequest, name: str) -> HttpResponse:
    """How far a print is, 202 as long as it is being made; then its files, or why there are none."""
    choice, version = _choice(request), request.GET.get("version", "")
    work = site_of(request).sets.get(WorkKey(name, choice, version))
    is_on = work is not None and not work.ended(_WAITS_S)
    values = _state(request, name, choice, version)
    return render(request, "fleet_print_state.html", values, status=202 if is_on else 200)


@require_POST
def cancel_fleet_print(request: HttpRequest, name: str) -> HttpResponse:
    """End a print."""
    choice, version = _choice(request), request.GET.get("version", "")
    if work := site_of(request).sets.get(WorkKey(name, choice, version)):
        work.cancel()
    return redirect(_page(name, choice))


def _choice(request: HttpRequest) -> SetChoice:
    """What a page asks for; what is not offered counts as not asked for."""
    paper = request.GET.get("paper", "")
    bars = (request.GET.get(name, "")[:_LONGEST_ENTRY].strip() for name in ("bar_short", "bar_long"))
    return SetChoice(paper if paper in PAPERS else PAPERS[0], *bars)


def _version(request: HttpRequest, name: str) -> str:
    """A short name for the fleet and all its jobs as they are."""
    folder, jobs = fleets_of(request), site_of(request).jobs
    texts = [folder.read(name), *(jobs.read(one) for one in job_names(folder.fleet(name), jobs))]
    return hashlib.sha256("\0".join(texts).encode("utf-8", "surrogatepass")).hexdigest()[:20]


def _begun(
    request: HttpRequest, name: str, choice: SetChoice, version: str, *, again: bool
) -> LongWork[KeptSet]:
    site, folder = site_of(request), fleets_of(request)

    def make(work: LongWork[KeptSet]) -> KeptSet | None:
        def progress(share: float, doing: Said) -> None:
            if not work.is_wanted():
                raise _Stopped
            work.progress(share, doing)

        stamp = datetime.now().astimezone()
        try:
            paper = paper_of(choice.paper, bar_short=choice.bar_short, bar_long=choice.bar_long)
            files = fleet_print(
                folder, site.jobs, name, stamp=stamp, do=in_processes(_WORKERS), paper=paper, shop=site.shop,
                progress=progress,
            )  # fmt: skip
        except _Stopped:
            return None
        key = secrets.token_urlsafe(12)
        site.made.put(key, files)
        return KeptSet(key, stamp)

    return site.sets.begun(WorkKey(name, choice, version), make, again=again)


def _page(name: str, choice: SetChoice) -> str:
    return f"{address('fleet-print', name=name)}?{urlencode(choice.query)}"


def _state(request: HttpRequest, name: str, choice: SetChoice, version: str) -> dict[str, Any]:
    site = site_of(request)
    work = site.sets.get(WorkKey(name, choice, version))
    query = urlencode({**choice.query, "version": version})
    kept = work.answer if work else None
    files: tuple[MadeFile, ...] = (site.made.get(kept.key) or ()) if kept else ()
    moved_on = ""
    try:
        moved_on = "" if _version(request, name) == version else words("page.fleet.moved_on")
    except HatchwrightError:
        moved_on = words("page.fleet.moved_on")
    return {
        "name": name,
        "choice": choice,
        "page": _page(name, choice),
        "query": query,
        "work": work,
        "state": str(work.state) if work else "gone",
        "faults": work.error.as_faults("fleet") if work and work.error else (),
        "cancel": f"{address('fleet-print-cancel', name=name)}?{query}",
        "again": f"{_page(name, choice)}&again=yes",
        "moved_on": moved_on,
        "kept": kept,
        "files": files,
        "stamp": kept.stamp.strftime("%Y-%m-%d %H:%M") if kept else "",
    }
