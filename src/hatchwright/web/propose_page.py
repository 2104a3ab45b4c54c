"""Layouts proposed for a job: searched beside the page, shown side by side, and entered by one tap."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hatchwright.errors import JobError
from hatchwright.page.files_beside import version_with_files
from hatchwright.page.fill_in import fill_in, with_part, without_part
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.page.screen import Asked
from hatchwright.page.ways_out import with_way_out
from hatchwright.web.job_page import asked_of, entered
from hatchwright.web.lettering import address
from hatchwright.web.long_work import State, WorkKey
from hatchwright.web.site import site_of
from hatchwright.web.troubles import opens_job
from hatchwright.web.typed import typed_in
from hatchwright.web.workers import proposed_beside
from hatchwright.workflow.job_folder import version_of

STEP = "proposal"
"""What the step of undo is called that enters one."""

_SECTION = "wish"
_WAITS_S = 0.5
"""How long a page that asks how far a search is waits for its end [s]."""

_MOST_LETTERS = 100_000
"""What a layout enters is shorter by far [characters]."""


@require_http_methods(["GET", "HEAD", "POST"])
@opens_job()
def propose(request: HttpRequest, name: str) -> HttpResponse:
    """Show the search of a job, begun where there is none; or begin it anew, after it was canceled or failed."""
    asked = asked_of(request, name)
    key = _key(asked)
    is_again = request.method == "POST"
    site_of(request).proposals.begun(key, lambda work: proposed_beside(asked, work), again=is_again)
    if is_again:
        return redirect("propose", name=name)
    return render(request, "propose.html", {**_state(request, asked, key.version), **_wish(request, asked)})


@require_safe
@opens_job()
def propose_state(request: HttpRequest, name: str) -> HttpResponse:
    """How far the search of one version is, 202 as long as it goes on; then what came of it. Of a job that has moved on
    nothing is shown but that."""
    asked, version = asked_of(request, name), request.GET.get("version", "")
    work = site_of(request).proposals.get(WorkKey(name, _SECTION, version))
    is_on = work is not None and not work.ended(_WAITS_S)
    status = 202 if is_on and version == _key(asked).version else 200
    return render(request, "propose_state.html", _state(request, asked, version), status=status)


@require_POST
def cancel_propose(request: HttpRequest, name: str) -> HttpResponse:
    """End a search."""
    version = request.GET.get("version", "")
    if work := site_of(request).proposals.get(WorkKey(name, _SECTION, version)):
        work.cancel()
    return redirect("propose", name=name)


@require_POST
def enter_proposed(request: HttpRequest, name: str) -> HttpResponse:
    """Enter a layout, as one step that undo takes back; nothing where the job has changed since it was found."""
    changes = request.POST.get("changes", "")[:_MOST_LETTERS]
    asked = site_of(request).asked(name)
    return entered(request, name, lambda text: with_way_out(text, changes, asked), step=STEP)


@require_POST
def enter_wish(request: HttpRequest, name: str) -> HttpResponse:
    """Write what was typed into the boxes of the wish, or add or take away a line of it, and search again."""
    typed = {path: value for path, value in typed_in(request.POST).items() if path.startswith(f"{_SECTION}.")}
    does, _, path = request.POST.get("part", "").partition(":")

    def change(text: str) -> str:
        text = fill_in(text, typed)
        if f"{path}.".startswith(f"{_SECTION}.") and does == "add":
            return with_part(text, path)[0]
        if f"{path}.".startswith(f"{_SECTION}.") and does == "take":
            return without_part(text, path)
        return text

    answer = entered(request, name, change)
    return redirect("propose", name=name) if answer.status_code == 302 else answer


def _key(asked: Asked) -> WorkKey:
    return WorkKey(asked.name, _SECTION, version_with_files(asked))


def _state(request: HttpRequest, asked: Asked, version: str) -> dict[str, Any]:
    name = asked.name
    has_moved = version != _key(asked).version
    work = None if has_moved else site_of(request).proposals.get(WorkKey(name, _SECTION, version))
    query = urlencode({"version": version})
    return {
        "job_name": name,
        "work": work,
        "state": "moved_on" if has_moved else str(work.state) if work else str(State.CANCELED),
        "goes_on": work is not None and work.state is State.GOING_ON,
        "faults": work.error.as_faults("job") if work and work.error else (),
        "found": work.answer if work else None,
        "query": query,
        "cancel": f"{address('propose-cancel', name=name)}?{query}",
        "again": address("propose", name=name),
        "base": version_of(asked.text),
    }


def _wish(request: HttpRequest, asked: Asked) -> dict[str, Any]:
    """The boxes of the wish, as they stand in the job."""
    try:
        wish = sheet_of(asked.text).sections.get(_SECTION)
    except JobError:
        wish = None
    return {"wish": wish, "part_to": address("propose-wish", name=asked.name)}
