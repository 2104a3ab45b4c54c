"""The records of a job: holds, counts, what each record holds, recording, signing, and the history.

Whatever is signed here asks for the pass phrase again. A revision of the history can be read and not changed.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from hatchwright.errors import Fault, JobError, RecordError
from hatchwright.page.record_sheet import record_view
from hatchwright.records.entry import Entered
from hatchwright.records.store import Store
from hatchwright.web.downloads import KINDS
from hatchwright.web.lettering import address
from hatchwright.web.lettering import page_text as words
from hatchwright.web.site import site_of, waiting_for
from hatchwright.web.troubles import no_such_job, trouble
from hatchwright.web.who import author_of, is_shop, signer_of
from hatchwright.web.workers import prepared_beside
from hatchwright.workflow.examine import examine
from hatchwright.workflow.hold_points import PLAN, WORK, count, hold_state, pass_hold
from hatchwright.workflow.job_folder import ChangedElsewhereError
from hatchwright.workflow.people import Signer, name_first
from hatchwright.workflow.record import record_job, seen_revision, store_of
from hatchwright.workflow.record_facts import recorded_of
from hatchwright.workflow.revision import Revision, revision_of
from hatchwright.workflow.revisions import (
    JOB_FILE,
    NotKeptError,
    content_of,
    kept_text,
    past_said,
    revision_numbered,
)
from hatchwright.workflow.sign import Looked, NotSignedError, looked_at, refuse_open, sign, signing_of

_TYPED = ("name", "certificate", "initials", "note")
"""Boxes that keep what was typed where it was refused; a pass phrase never does."""

_COUNT = ("item-", "n-")
"""How the boxes of a count begin, before their side; they are kept likewise."""

_KEPT, _REMEMBERED = ("name", "initials"), "signs"
"""Boxes that this browser finds filled in the next time, and where its session keeps them."""

_LONGEST = 600
_MOST_DIGITS = 9

View = Callable[..., HttpResponse]


def _tells(view: View) -> View:
    """A view that says why where the job or the records can't be read."""

    @wraps(view)
    def answered(request: HttpRequest, name: str, **more: Any) -> HttpResponse:
        try:
            return view(request, name, **more)
        except JobError as error:
            return no_such_job(request, name, error)
        except RecordError as error:
            status = 404 if isinstance(error, NotKeptError) else 503
            return trouble(request, status, words("page_record.unread"), faults=error.as_faults("records"))

    return answered


@require_safe
@_tells
def records(request: HttpRequest, name: str) -> HttpResponse:
    """The records of a job as it stands."""
    return _show(request, name)


@require_POST
@_tells
def enter(request: HttpRequest, name: str) -> HttpResponse:
    """Record or sign what the pressed button says, and show the records again, or why nothing was done."""
    try:
        number = _entered(request, name, request.POST.get("does", ""))
    except NotSignedError as error:
        return _show(request, name, error.as_faults("records"), tuple(words(one) for one in error.open))
    except ChangedElsewhereError:
        return _show(request, name, (Fault.saying("records", "record_sign.changed"),))
    except JobError as error:
        return _show(request, name, error.faults)
    except RecordError as error:
        return _show(request, name, error.as_faults("records"))
    if number is None:  # nobody waited for it
        return HttpResponse(status=204)
    request.session[_REMEMBERED] = [request.POST.get(box, "")[:_LONGEST] for box in _KEPT]
    return redirect(f"{address('records', name=name)}?done={number}")


@require_safe
@_tells
def revision(request: HttpRequest, name: str, number: int) -> HttpResponse:
    """One revision as it was kept: it can be read and not changed."""
    store = _store_read(request)
    kept = revision_numbered(store, name, number)
    values = {
        "job_name": name,
        "kept": kept,
        "told": past_said(kept),
        "text": kept_text(store, kept),
        "job_file": JOB_FILE,
    }
    return render(request, "revision.html", values)


@require_safe
@_tells
def kept_file(request: HttpRequest, name: str, number: int, file: str) -> HttpResponse:
    """One file of a revision as the bytes that were kept."""
    store = _store_read(request)
    kept = revision_numbered(store, name, number)
    content = content_of(store, kept, file)
    written = next((one.written for one in kept.files if one.name == file), "")
    kind = next(
        (told for one, (told, _) in KINDS.items() if one.value == written), "text/plain; charset=utf-8"
    )
    called = name if file == JOB_FILE else file
    headers = {"Content-Disposition": f'attachment; filename="{called}"'}
    return HttpResponse(content, content_type=kind, headers=headers)


def _store_read(request: HttpRequest) -> Store:
    store = store_of(site_of(request).jobs.folder)
    if store is None:
        raise NotKeptError.saying("record_sign.no_records", where="records")
    return store


def _entered(request: HttpRequest, name: str, does: str) -> int | None:
    """Do what a button says; the number of the entry, None where nobody waited for it."""
    site, posted = site_of(request), request.POST
    what, _, of = does.partition(":")
    base, now = posted.get("base", ""), datetime.now(UTC)
    if what == "record":
        author = author_of(request) or posted.get("name", "")
        note = posted.get("note", "")
        return record_job(site.jobs, name, author=author, now=now, note=note, base=base).entry.seq
    revision = seen_revision(site.jobs, name, base)
    looked = looked_at(revision, examine(revision.job(), site.shop, with_strength=False))
    if what == "sign" and of in (PLAN, WORK):
        return _signed(request, revision, looked, of)
    side, _, hold = of.partition(":")
    seen = _whole(posted.get("seen", ""))
    if what == "hold":
        by, store = _signer(request), Store.opened(site.jobs.folder)
        initials = posted.get("initials", "")
        return pass_hold(
            store,
            looked.plan,
            side=side,
            hold=hold,
            initials=initials,
            by=by,
            now=datetime.now(UTC),
            seen=seen,
        ).seq
    if what in ("in", "out"):
        n = _whole(posted.get(f"n-{side}", ""))
        by, store = _signer(request), Store.opened(site.jobs.folder)
        item = posted.get(f"item-{side}", "")
        return count(
            store, looked.plan, side=side, item=item, n=n, way=what, by=by, now=datetime.now(UTC), seen=seen
        ).seq
    raise RecordError.saying("record_sign.no_button")


def _signed(request: HttpRequest, revision: Revision, looked: Looked, what: str) -> int | None:
    """Sign the plan or the finished work, with its papers made beside the page."""
    site, name = site_of(request), revision.name
    there = store_of(site.jobs.folder)
    state = hold_state(there, looked.plan)
    if not any(one.awaits_strength for one in looked.verdicts):
        refuse_open(what, looked, state)  # before anybody waits for papers
    by, store = _signer(request), Store.opened(site.jobs.folder)
    seen = request.POST.get("seen", "")
    signing = signing_of(what, by)
    recorded = recorded_of(
        site.jobs.folder, name, revision.job(), state, on=date.today(), head=store.head(), signing=signing
    )
    ready = prepared_beside(
        revision,
        what,
        waiting_for(request),
        stamp=datetime.now().astimezone(),
        shop=site.shop,
        recorded=recorded,
    )
    if ready is None:
        return None
    return sign(store, ready, by=by, now=datetime.now(UTC), after=_whole(seen)).seq


def _signer(request: HttpRequest) -> Signer:
    """Who signs; on one's own computer the first one is named by it."""
    posted, folder = request.POST, site_of(request).jobs.folder
    store = store_of(folder)
    if is_shop(request) or (store and store.people()):
        return signer_of(request)
    if posted.get("pass_phrase", "") != posted.get("pass_phrase_again", ""):
        raise RecordError.saying("page_record.not_alike")
    return name_first(
        folder,
        name=posted.get("name", ""),
        pass_phrase=posted.get("pass_phrase", ""),
        certificate=posted.get("certificate", ""),
        now=datetime.now(UTC),
    )


def _whole(typed: str) -> int:
    typed = typed.strip()
    if not (typed.isascii() and typed.isdigit()) or len(typed) > _MOST_DIGITS:
        raise RecordError.saying("page_record.no_count")
    return int(typed)


def _show(
    request: HttpRequest, name: str, faults: tuple[Fault, ...] = (), open_points: tuple[str, ...] = ()
) -> HttpResponse:
    """The page; with what was typed and why it was refused where nothing was done."""
    site = site_of(request)
    revision = revision_of(site.jobs, name)
    store = store_of(site.jobs.folder)
    values = {
        "job_name": name,
        "view": record_view(site.asked(name), revision, store, on=date.today()),
        "version": revision.version,
        "signs_as": author_of(request) if is_shop(request) else "",
        "typed": _typed(request),
        "faults": faults,
        "open_points": open_points,
        "done": _done(request, store, name),
    }
    return render(request, "record.html", values, status=409 if faults else 200)


def _typed(request: HttpRequest) -> dict[str, str]:
    """What stands in the boxes: what was typed and refused, else the name and initials that signed last."""
    if request.method == "POST":
        counted = (box for box in request.POST if box.startswith(_COUNT))
        return {box: request.POST.get(box, "")[:_LONGEST] for box in (*_TYPED, *counted)}
    kept = zip(_KEPT, request.session.get(_REMEMBERED) or ("", ""), strict=True)
    return dict.fromkeys(_TYPED, "") | dict(kept)


def _done(request: HttpRequest, store: Store | None, name: str) -> Entered | None:
    """The entry that was just made, for the page to say so."""
    number = request.GET.get("done", "")
    if store is None or not (number.isascii() and number.isdigit()) or len(number) > _MOST_DIGITS:
        return None
    entry = store.entry(int(number))
    return entry if entry and entry.about == name else None
