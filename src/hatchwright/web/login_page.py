"""The login of a shop server: a name and a pass phrase."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import Resolver404, resolve, reverse
from django.views.decorators.http import require_http_methods

from hatchwright.errors import RecordError
from hatchwright.web.site import site_of
from hatchwright.web.staff import TooSoonError
from hatchwright.web.who import let_in, who
from hatchwright.workflow.people import LONGEST_NAME

_LONGEST_ADDRESS = 500


@require_http_methods(["GET", "HEAD", "POST"])
def login(request: HttpRequest) -> HttpResponse:
    """Ask who it is, and let him in on the page that he wanted.

    The token of forms stays as it was, so that what was typed before a session ended can still be sent: nobody plants
    one, for its cookie bears the prefix that only this very host may set over TLS.
    """
    staff = site_of(request).staff
    if staff is None:
        raise Http404
    sent = request.POST if request.method == "POST" else request.GET
    wanted, name = _page_here(sent.get("next", "")), request.POST.get("name", "")
    error: RecordError | None = None
    status = 200
    try:
        if request.method == "POST":
            phrase, address = request.POST.get("pass_phrase", ""), request.META.get("REMOTE_ADDR", "")
            let_in(request, staff.signer(name[: LONGEST_NAME + 1], phrase, address).person)
            return HttpResponseRedirect(wanted)
        if who(request):
            return HttpResponseRedirect(wanted)
    except TooSoonError as soon:
        error, status = soon, 429
    except RecordError as refused:
        error, status = refused, 403
    values = {"wanted": wanted, "name": name[:LONGEST_NAME], "error": error}
    return render(request, "login.html", values, status=status)


def _page_here(address: str) -> str:
    """An address of one of our own pages, the list of jobs for any other."""
    path = address.partition("?")[0]
    is_plain = len(address) <= _LONGEST_ADDRESS and address.isascii() and address.isprintable()
    try:
        is_ours = is_plain and "\\" not in address and not path.startswith("//") and bool(resolve(path))
    except Resolver404:
        is_ours = False
    return address if is_ours and path != reverse("leave") else reverse("start")
