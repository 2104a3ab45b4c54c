"""Rows of a spreadsheet pasted into a list of a job: what the list takes, and what is wrong where it can't be read."""

from __future__ import annotations

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from hatchwright.errors import Fault, HatchwrightError
from hatchwright.job.as_typed import raw_data
from hatchwright.page.before_entering import BeforeEntering, before_entering, with_readings
from hatchwright.page.lay_out_sheet import READINGS
from hatchwright.page.paste import Pasted, PasteList, paste_list, with_pasted
from hatchwright.page.pasted_holes import (
    HOLES,
    PastedHoles,
    asks_for_u,
    pasted_holes,
    with_u,
    with_unnumbered,
)
from hatchwright.page.survey_legs import is_on_page
from hatchwright.said import Listed, said
from hatchwright.units import Unit
from hatchwright.web.hand import hand_of_one
from hatchwright.web.site import site_of
from hatchwright.web.troubles import opens_job
from hatchwright.words.tell import tell
from hatchwright.workflow.job_folder import version_of
from hatchwright.workflow.measure_said import HEADS

_MOST_SHOWN = 12
"""So many faults of a paste are shown; who has mended them is shown the next [-]."""


@require_http_methods(["GET", "HEAD", "POST"])
@opens_job()
def paste(request: HttpRequest, name: str) -> HttpResponse:
    """Show what a list takes and what was entered last, or enter what was pasted; the list is named in the address."""
    folder, path = site_of(request).jobs, request.GET.get("list", "")
    text = folder.read(name)
    if request.method != "POST":
        done = request.session.pop("pasted", None)
        return _show(request, name, text, path, done=done if done and done["list"] == path else None)
    pasted, u = request.POST.get("pasted", ""), request.POST.get("u", "").strip()
    is_decimal = request.POST.get("commas") == "decimal"
    where = folder.folder
    found: list[Pasted] = []
    laid: list[PastedHoles | None] = []

    def change(text: str) -> str:
        how = {"replacing": request.POST.get("how") == "replace", "commas_are_decimal": is_decimal}
        if path == READINGS:
            one, holes = with_readings(text, pasted, u=u, folder=where, commas_are_decimal=is_decimal)
            found[:], laid[:] = [one], [holes]
            return one.text
        unnumbered = with_unnumbered(text, pasted, u=u, folder=where, **how) if path == HOLES else None
        found[:] = [unnumbered or with_pasted(text, path, pasted, **how)]
        return with_u(found[0].text, u)

    hand = hand_of_one(request)
    try:
        changed = change(text)
        if path != READINGS:
            laid[:] = [pasted_holes(text, path, pasted, u=u, folder=where, commas_are_decimal=is_decimal)]
        said_too = f"{u} {is_decimal} {request.POST.get('how')}\n{pasted}"
        shop = site_of(request).shop
        before = before_entering(
            with_u(text, u), changed, path=path, said_too=said_too, holes=laid[0], folder=where, shop=shop
        )
        if before and (faults := _not_yet(request, before)) is not None:
            status = 400 if faults else 200
            return _show(
                request, name, text, path, pasted=pasted, faults=faults, before=before, status=status
            )
        folder.enter(name, hand, change)
    except HatchwrightError as error:
        return _show(request, name, text, path, pasted=pasted, faults=error.as_faults(""), status=400)
    label, notes = _place(text, path).label, [tell(note) for note in found[0].notes]
    told = tell(said("paste.done", n=found[0].rows, list=label))
    request.session["pasted"] = {"list": path, "told": [told, *notes]}
    return HttpResponseRedirect(f"{reverse('paste', kwargs={'name': name})}?{urlencode({'list': path})}")


def _place(text: str, path: str) -> PasteList:
    """What takes the rows; JobError where nothing does."""
    if path == READINGS:
        unit: Unit = "mm" if raw_data(text).get("units") == "mm" else "in"
        return PasteList(READINGS, tell(said("pasted.readings")), (), 0, unit)
    return paste_list(text, path)


def _not_yet(request: HttpRequest, before: BeforeEntering) -> tuple[Fault, ...] | None:
    """Why a set is not entered yet: no fault where the person has not seen how it lies, its doubts where nobody said
    that it is as it is; None where it is to be entered."""
    if request.POST.get("seen") != before.seen:
        return ()
    return before.doubts or None if not request.POST.get("as_they_are") else None


def _show(
    request: HttpRequest,
    name: str,
    text: str,
    path: str,
    *,
    pasted: str = "",
    faults: tuple[Fault, ...] = (),
    before: BeforeEntering | None = None,
    done: dict[str, object] | None = None,
    status: int = 200,
) -> HttpResponse:
    place = _place(text, path)
    columns = (
        column.label if column.required else tell(said("paste.optional", column=column.label))
        for column in place.columns
    )
    is_surveyed = is_on_page(place.path)
    page = reverse("survey" if is_surveyed else "job", kwargs={"name": name})
    values = {
        "job_name": name,
        "place": place,
        "back": f"{page}?{urlencode({'at': place.path})}",
        "back_words": tell(said("page_site.back" if is_surveyed else "paste.back")),
        "columns": tell(
            said("pasted.readings.takes")
            if path == READINGS
            else said("paste.takes", columns=Listed(tuple(columns), ","))
        ),
        "how": tell(said("paste.how", unit=said(f"paste.unit.{place.unit}"))),
        "version": version_of(text),
        "pasted": pasted,
        "faults": faults[:_MOST_SHOWN],
        "more": len(faults[_MOST_SHOWN:]),
        "told": done["told"] if done else (),
        "before": before,
        "laid": before.holes if before else None,
        "is_of_readings": path == READINGS,
        "is_made": path.startswith(f"{READINGS}."),
        "readings": READINGS,
        "heads": [tell(said(f"measure.head.{head}")) for head in HEADS],
        "is_of_holes": path == HOLES,
        "asks_for_u": asks_for_u(text, path),
        "u": request.POST.get("u", ""),
        "unit": said(f"paste.unit.{place.unit}"),
        "is_replacing": request.POST.get("how") == "replace",
        "is_decimal": request.POST.get("commas") == "decimal",
    }
    return render(request, "paste.html", values, status=status)
