"""The papers of a job, made when asked for and handed out under one key, so that all are of the same moment."""

from __future__ import annotations

import io
import secrets
import zipfile
from collections import OrderedDict
from dataclasses import dataclass
from datetime import datetime
from threading import Lock

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hatchwright.errors import JobError
from hatchwright.web.folder import jobs, shop
from hatchwright.web.troubles import trouble
from hatchwright.workflow.made_papers import PAPERS, MadePapers, made_papers

KINDS = {
    "pdf": ("application/pdf", "to print at 100 %"),
    "svg": ("image/svg+xml", "drawing of true size"),
    "dxf": ("image/vnd.dxf", "for a machine or another drawing program"),
    "zip": ("application/zip", "all of them in one file"),
}
"""Ending of a file name to what it is, for a browser and in words."""

_SIDES = ("LEFT", "RIGHT", "CENTRE")
_MOST_KEPT = 6

_kept: OrderedDict[str, dict[str, bytes]] = OrderedDict()
_lock = Lock()


@dataclass(frozen=True, slots=True)
class FileLine:
    """One file as it is offered."""

    name: str
    side: str
    words: str
    size: str


@require_safe
def papers(request: HttpRequest, name: str) -> HttpResponse:
    """The page of a job's papers; it asks for the papers themselves once it is shown, as they take some seconds."""
    paper = request.GET.get("paper", "")
    paper = paper if paper in PAPERS else PAPERS[0]
    try:
        text = jobs().read(name)
        if not request.headers.get("HX-Request"):
            return render(request, "papers.html", {"job_name": name, "paper": paper, "sizes": PAPERS})
        stamp = datetime.now().astimezone()
        made = made_papers(text, jobs().folder, name, stamp=stamp, paper=paper, shop=shop())
    except JobError as error:
        if request.headers.get("HX-Request"):
            return render(request, "papers_refused.html", {"faults": error.faults})
        return trouble(request, 404, "This job cannot be opened.", faults=error.faults)
    bundle = f"{name.removesuffix('.toml')}.zip"
    key = _keep({**made.files, bundle: _zipped(made.files, stamp)}) if made.files else ""
    values = {
        "job_name": name,
        "made": made,
        "stamp": stamp.strftime("%Y-%m-%d %H:%M"),
        "key": key,
        "bundle": bundle,
        "sides": _by_side(made),
    }
    return render(request, "papers_made.html", values)


@require_safe
def paper(request: HttpRequest, name: str, key: str, file: str) -> HttpResponse:
    """Hand out one file of a set that was made."""
    with _lock:
        content = _kept.get(key, {}).get(file)
    if content is None:
        raise Http404
    kind, _ = KINDS[file.rpartition(".")[2]]
    return HttpResponse(
        content, content_type=kind, headers={"Content-Disposition": f'attachment; filename="{file}"'}
    )


def _keep(files: dict[str, bytes]) -> str:
    key = secrets.token_urlsafe(12)
    with _lock:
        _kept[key] = files
        while len(_kept) > _MOST_KEPT:
            _kept.popitem(last=False)
    return key


def _by_side(made: MadePapers) -> dict[str, list[FileLine]]:
    """The files of each side, PDF first."""
    order = list(KINDS)
    sides: dict[str, list[FileLine]] = {}
    for side in _SIDES:
        lines = [
            FileLine(name, side, KINDS[name.rpartition(".")[2]][1], f"{max(1, len(content) // 1024)} kB")
            for name, content in made.files.items()
            if f"_{side}_" in name
        ]
        if lines:
            sides[side] = sorted(
                lines, key=lambda line: (order.index(line.name.rpartition(".")[2]), line.name)
            )
    return sides


def _zipped(files: dict[str, bytes], stamp: datetime) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bundle:
        for name, content in files.items():
            bundle.writestr(zipfile.ZipInfo(name, stamp.timetuple()[:6]), content, zipfile.ZIP_DEFLATED)
    return out.getvalue()
