"""Who a request comes from: on a shop server the person who came in; on one's own computer nobody is asked."""

from __future__ import annotations

from django.http import HttpRequest

from hatchwright.records.people import Person
from hatchwright.web.site import site_of
from hatchwright.workflow.people import Signer, people_of, signer

IDLE_S = 30 * 60.0
"""After so long without a request a person is asked again [s]. Source: [NIST800-63B], 4.2.3, from memory."""
SHIFT_S = 12 * 3600.0
"""After so long he is asked again in any case [s]. Source: [NIST800-63B], 4.2.3, from memory."""
_NOTED_EVERY_S = 60.0

_WHO = "hatchwright.who"
_NAME, _KEY, _SINCE, _SEEN = "name", "key", "since_s", "seen_s"


def is_shop(request: HttpRequest) -> bool:
    """Whether this is a shop server, where everybody has come in by name."""
    return site_of(request).staff is not None


def who(request: HttpRequest) -> Person | None:
    """The person who came in and still may; None on one's own computer, and where nobody has.

    A session ends for a person who has left or has a new key, after `IDLE_S` without a request, and after `SHIFT_S`.

    Raises:
        RecordError: the records can't be read.
    """
    if _WHO not in request.META:
        request.META[_WHO] = _who(request)
    found: Person | None = request.META[_WHO]
    return found


def author_of(request: HttpRequest) -> str:
    """The name of who asks, "" where nobody is asked for it."""
    person = who(request)
    return person.name if person else ""


def let_in(request: HttpRequest, person: Person) -> None:
    """Begin a session of its own for a person who has just shown who he is."""
    staff = site_of(request).staff
    assert staff is not None  # there is no other door to this
    request.session.flush()
    now_s = staff.clock()
    request.session.update({_NAME: person.name, _KEY: person.key.public, _SINCE: now_s, _SEEN: now_s})
    request.META[_WHO] = person


def signer_of(request: HttpRequest) -> Signer:
    """Who signs what a form has sent, by its box `pass_phrase`: on a shop server the person who is in, else the one
    whom the box `name` names.

    Raises:
        RecordError: they don't go together, or it was tried too often.
    """
    site, phrase = site_of(request), request.POST.get("pass_phrase", "")
    if site.staff is None:
        return signer(people_of(site.jobs.folder), request.POST.get("name", ""), phrase)
    return site.staff.signer(author_of(request), phrase, request.META.get("REMOTE_ADDR", ""))


def _who(request: HttpRequest) -> Person | None:
    staff = site_of(request).staff
    if staff is None or not (name := request.session.get(_NAME)):
        return None
    now_s, kept = staff.clock(), request.session
    person = staff.people().get(name)
    is_over = now_s - kept[_SEEN] > IDLE_S or now_s - kept[_SINCE] > SHIFT_S
    if is_over or person is None or person.role is None or person.key.public != kept[_KEY]:
        kept.flush()
        return None
    if (
        now_s - kept[_SEEN] > _NOTED_EVERY_S
    ):  # or each request would write the session, and undo what another noted
        kept[_SEEN] = now_s
    return person
