"""The people of a shop: who they are; an inspector names them and gives roles, each changes his own pass phrase.

Whatever is changed here is signed by who changes it, with his pass phrase asked again.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from functools import wraps

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import RecordError
from hatchwright.page.people_sheet import people_sheet
from hatchwright.records.people import Person, Role
from hatchwright.records.store import Store
from hatchwright.web.site import site_of
from hatchwright.web.staff import Staff, TooSoonError
from hatchwright.web.who import let_in, signer_of, who
from hatchwright.workflow.people import Signer, give_role, name_person, new_pass_phrase

_LEFT = "left"


@require_safe
def people(request: HttpRequest) -> HttpResponse:
    """The list, with what this person may change."""
    return _shown(request, None, 200)


Change = Callable[[HttpRequest, Staff, Signer], Person]


def _changes(change: Change) -> Callable[[HttpRequest], HttpResponse]:
    """A view that makes a change which is signed, and shows the list again or why nothing was changed."""

    @require_POST
    @wraps(change)
    def answered(request: HttpRequest) -> HttpResponse:
        try:
            by = signer_of(request)
            changed = change(request, _staff_of(request), by)
            if changed.name == by.person.name:
                let_in(request, changed)  # all other sessions of the old key have ended
        except TooSoonError as error:
            return _shown(request, error, 429)
        except RecordError as error:
            return _shown(request, error, 409)
        return redirect("people")

    return answered


@_changes
def name_one(request: HttpRequest, staff: Staff, by: Signer) -> Person:
    """Name a person."""
    if (role := _role_in(request)) is None:
        raise RecordError.saying("people.no_role")
    name, certificate = request.POST.get("name", ""), request.POST.get("certificate", "")
    return name_person(
        staff.folder, by=by, name=name, role=role, certificate=certificate, pass_phrase=_new_phrase(request),
        now=datetime.now(UTC),
    )  # fmt: skip


@_changes
def give(request: HttpRequest, staff: Staff, by: Signer) -> Person:
    """Give a person another role, or none where he has left."""
    name = request.POST.get("name", "")
    return give_role(staff.folder, by=by, name=name, role=_role_in(request), now=datetime.now(UTC))


@_changes
def give_key(request: HttpRequest, staff: Staff, by: Signer) -> Person:
    """Give a new pass phrase to a person who has lost his."""
    name = request.POST.get("name", "")
    return new_pass_phrase(
        staff.folder, by=by, name=name, pass_phrase=_new_phrase(request), now=datetime.now(UTC)
    )


@_changes
def own_phrase(request: HttpRequest, staff: Staff, by: Signer) -> Person:
    """Change one's own pass phrase."""
    name = by.person.name
    return new_pass_phrase(
        staff.folder, by=by, name=name, pass_phrase=_new_phrase(request), now=datetime.now(UTC)
    )


def _new_phrase(request: HttpRequest) -> str:
    """The new pass phrase, which is typed twice."""
    new = request.POST.get("new_pass_phrase", "")
    if new != request.POST.get("new_pass_phrase_again", ""):
        raise RecordError.saying("people.not_twice")
    return new


def _role_in(request: HttpRequest) -> Role | None:
    """The role that was picked, None for who has left.

    Raises:
        RecordError: there is no such role.
    """
    role = request.POST.get("role", "")
    if role not in (*Role, _LEFT):
        raise RecordError.saying("people.no_role")
    return None if role == _LEFT else Role(role)


def _staff_of(request: HttpRequest) -> Staff:
    if (staff := site_of(request).staff) is None:
        raise Http404
    return staff


def _shown(request: HttpRequest, error: RecordError | None, status: int) -> HttpResponse:
    staff, person = _staff_of(request), who(request)
    values = {
        "sheet": people_sheet(Store.opened(staff.folder), staff.people()),
        "me": person,
        "is_inspector": person is not None and person.may(Role.INSPECTOR),
        "fingerprint": staff.fingerprint,
        "error": error,
        "typed": {key: request.POST.get(key, "") for key in ("name", "certificate", "role")},
    }
    return render(request, "people.html", values, status=status)
