"""The door: on one's own computer only who opened the printed address once is let in; on a shop server, who has shown
by name and pass phrase who he is, and then to what his role may do."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import Resolver404, resolve, reverse
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import RecordError
from hatchwright.records.people import Person
from hatchwright.web.handler import LARGEST_BODY_BYTES
from hatchwright.web.lettering import page_text as words
from hatchwright.web.rights import least_role
from hatchwright.web.site import site_of
from hatchwright.web.troubles import trouble
from hatchwright.web.who import is_shop, who

_OPEN = ("/enter/", "/static/")
_OPEN_IN_SHOP = ("/login", "/static/")


class Door:
    """Middleware that lets in only whom it knows."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer, or show the closed door."""
        if is_shop(request):
            return self._in_shop(request)
        if request.path_info.startswith(_OPEN) or request.session.get("is_in"):
            return self.get_response(request)
        return closed(request)

    def _in_shop(self, request: HttpRequest) -> HttpResponseBase:
        if request.path_info.startswith(_OPEN_IN_SHOP):
            return self.get_response(request)
        try:
            person = who(request)
        except RecordError as error:
            return trouble(request, 503, words("page_people.no_records"), faults=error.as_faults(""))
        if person is None:
            return closed(request)
        if not _may(person, request):
            what = words("page_people.may_not", role=words(f"people.role.{person.role}"))
            answer = trouble(request, 403, what, remedy=words("page_people.may_not.do"))
            answer.headers["X-May-Not"] = str(person.role)  # tells a script that nobody's session has ended
            return answer
        return self.get_response(request)


def _may(person: Person, request: HttpRequest) -> bool:
    try:
        page = resolve(request.path_info).url_name or ""
    except Resolver404:
        page = ""
    return person.may(least_role(page, request.method or ""))


@require_safe
def enter(request: HttpRequest, token: str) -> HttpResponse:
    """Let a browser in that brings an unused token, and send it on to the job named at the start."""
    site = site_of(request)
    if request.method == "GET" and site.tokens.take(token):
        request.session.cycle_key()
        request.session["is_in"] = True
        return redirect("job", name=site.first_job) if site.first_job else redirect("start")
    if request.session.get("is_in"):
        return redirect("start")
    return closed(request)


@require_POST
def leave(request: HttpRequest) -> HttpResponse:
    """Let a browser out: its cookie, and every copy of it, opens nothing any more."""
    request.session.flush()
    return redirect("start")


def closed(request: HttpRequest) -> HttpResponse:
    """The page for who is not in; what a form sent stays on it, to be sent again, and no pass phrase does."""
    in_shop = is_shop(request)
    if in_shop and request.method in ("GET", "HEAD") and not request.headers.get("HX-Request"):
        return redirect(f"{reverse('login')}?{urlencode({'next': request.get_full_path()})}")
    return render(request, "closed.html", {"posted": _kept(request), "is_shop": in_shop}, status=403)


def _kept(request: HttpRequest) -> list[tuple[str, str]]:
    """What a form sent but pass phrases; nothing of a picture, whose body takes too much memory for who is not in."""
    if int(request.META.get("CONTENT_LENGTH") or 0) > LARGEST_BODY_BYTES:
        return []
    lists = ((name, values) for name, values in request.POST.lists() if "pass_phrase" not in name)
    return [(name, str(value)) for name, values in lists for value in values]
