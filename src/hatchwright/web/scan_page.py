"""A flat scan sent to a job: measured beside the page, shown with each uncertainty, and entered from there."""

from __future__ import annotations

import secrets
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hatchwright.errors import Fault
from hatchwright.page.pasted_holes import HOLES, asks_for_u
from hatchwright.units import Unit
from hatchwright.web.lettering import address
from hatchwright.web.long_work import State, WorkKey
from hatchwright.web.site import site_of
from hatchwright.web.troubles import opens_job
from hatchwright.web.workers import scan_view
from hatchwright.workflow.job_folder import version_of

_WAITS_S = 0.5
"""How long a page that asks how far a scan is waits for its end [s]."""


@require_http_methods(["GET", "HEAD", "POST"])
@opens_job()
def scan(request: HttpRequest, name: str) -> HttpResponse:
    """Ask for a picture and what belongs to it, and show what was found in the last one; or take one in."""
    from hatchwright.page.scanned import BOXES, asked_scan  # what a scan stands on is loaded for it alone
    from hatchwright.workflow.scan import known_of_text

    site = site_of(request)
    text = site.jobs.read(name)
    known = known_of_text(text, site.jobs.folder, name)
    boxes, held = (*BOXES, "scanner", "flipped"), f"scan-{name}"
    if request.method != "POST":
        typed = request.session.get(held, {**dict.fromkeys(boxes, ""), "thickness": known.thickness})
        return _show(request, name, known.unit, typed, request.GET.get("of", ""))
    request.session[held] = typed = {box: request.POST.get(box, "") for box in boxes}
    sent = request.FILES.get("picture")
    if sent is None:
        fault = Fault.saying("", "page.scan.no_picture")
        return _show(request, name, known.unit, typed, "", fault=fault, status=400)
    asked = asked_scan(sent.read(), sent.name or "", typed, known)
    token = secrets.token_hex(8)
    site.scans.begun(_key(name, token), lambda work: scan_view(asked, work))
    return redirect(_page(name, token))


@require_safe
@opens_job()
def scan_state(request: HttpRequest, name: str) -> HttpResponse:
    """How far one scan is, 202 as long as it is being measured; then what was found, or why nothing was."""
    token = request.GET.get("of", "")
    work = site_of(request).scans.get(_key(name, token))
    is_on = work is not None and not work.ended(_WAITS_S)
    return render(request, "scan_state.html", _state(request, name, token), status=202 if is_on else 200)


@require_POST
def cancel_scan(request: HttpRequest, name: str) -> HttpResponse:
    """End the measuring of one scan."""
    token = request.GET.get("of", "")
    if work := site_of(request).scans.get(_key(name, token)):
        work.cancel()
    return redirect(_page(name, token))


def _key(name: str, token: str) -> WorkKey:
    return WorkKey(name, "scan", token)


def _page(name: str, token: str) -> str:
    return f"{address('scan', name=name)}?{urlencode({'of': token})}"


def _state(request: HttpRequest, name: str, token: str) -> dict[str, Any]:
    work = site_of(request).scans.get(_key(name, token))
    text = site_of(request).jobs.read(name)
    return {
        "job_name": name,
        "work": work,
        "state": str(work.state) if work else "gone",
        "why": work.error.as_fault("") if work and work.error else None,
        "found": work.answer if work else None,
        "query": urlencode({"of": token}),
        "cancel": f"{address('scan-cancel', name=name)}?{urlencode({'of': token})}",
        "version": version_of(text),
        "list": HOLES,
        "asks_for_u": asks_for_u(text, HOLES),
    }


def _show(
    request: HttpRequest,
    name: str,
    unit: Unit,
    typed: dict[str, str],
    token: str,
    *,
    fault: Fault | None = None,
    status: int = 200,
) -> HttpResponse:
    work = site_of(request).scans.get(_key(name, token))
    values = {
        **_state(request, name, token),
        "is_of_one": bool(token),
        "goes_on": work is not None and work.state is State.GOING_ON,
        "fault": fault,
        "typed": typed,
        "unit": unit,
        "scanners": ("contact", "lens"),
    }
    return render(request, "scan.html", values, status=status)
