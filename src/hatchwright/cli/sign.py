"""`hatchwright sign`: sign the plan, a hold point, a count or the finished work; the pass phrase is asked for."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import NoReturn

import click

from hatchwright.cli.frame import PATH, now, put, shop_option, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.paper_options import paper_option
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.errors import RecordError
from hatchwright.records.entry import Entered
from hatchwright.records.store import Store
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell
from hatchwright.workflow.clock import clock_said, set_clock
from hatchwright.workflow.examine import examine
from hatchwright.workflow.hold_points import (
    PLAN,
    WORK,
    HoldState,
    Plan,
    count,
    hold_state,
    in_the_way,
    pass_hold,
)
from hatchwright.workflow.job_folder import JobFolder
from hatchwright.workflow.open_job import own_tables
from hatchwright.workflow.people import Signer
from hatchwright.workflow.printing import PAPERS, paper_of
from hatchwright.workflow.record import store_of, who_records
from hatchwright.workflow.record_facts import recorded_of
from hatchwright.workflow.revision import Revision, revision_of
from hatchwright.workflow.sign import (
    Looked,
    NotSignedError,
    looked_at,
    prepared,
    refuse_open,
    sign,
    signing_of,
    who_signs,
)

_REFUSED = 2


@click.command(name="sign", help=words("command.sign.help"))
@click.argument("job", type=PATH)
@click.option("--for", "what", type=click.Choice((PLAN, WORK)), help=words("command.sign.for"))
@click.option("--hold", help=words("command.sign.hold"))
@click.option("--side", type=click.Choice(("left", "right", "center")), help=words("command.sign.side"))
@click.option("--initials", default="", help=words("command.sign.initials"))
@click.option("--count-in", type=(str, int), help=words("command.sign.count_in"))
@click.option("--count-out", type=(str, int), help=words("command.sign.count_out"))
@click.option("--clock", is_flag=True, help=words("command.sign.clock"))
@click.option("--name", default="", help=words("command.sign.name"))
@click.option("--certificate", default="", help=words("command.sign.certificate"))
@paper_option(*PAPERS)
@shop_option
def command(
    job: Path,
    what: str | None,
    hold: str | None,
    side: str | None,
    initials: str,
    count_in: tuple[str, int] | None,
    count_out: tuple[str, int] | None,
    clock: bool,
    name: str,
    certificate: str,
    paper: str,
    shop: Path | None,
) -> None:
    """Sign one thing, or tell what is open."""
    if sum(one is not None for one in (what, hold, count_in, count_out, clock or None)) > 1:
        raise click.UsageError(words("command.sign.one_thing"))
    jobs, tables = JobFolder(job.parent), own_tables(shop)
    if clock:
        _sign_clock(jobs, name)
        return
    revision = revision_of(jobs, job.name)
    if what:
        _sign(jobs, revision, what, name, certificate, paper, tables)
        return
    counted = count_in or count_out
    if not hold and not counted:
        with progress_bar() as progress:
            looked = looked_at(revision, examine(revision.job(), tables, progress=progress))
        _tell_open(looked, hold_state(store_of(jobs.folder), looked.plan))
        return
    looked = looked_at(revision, examine(revision.job(), tables, with_strength=False))
    here = side or _only_side(looked.plan)
    by = _signer(jobs, name, certificate)
    store = Store.opened(jobs.folder)
    if hold:
        entry = pass_hold(store, looked.plan, side=here, hold=hold, initials=initials, by=by, now=now())
    else:
        assert counted is not None
        way = "in" if count_in else "out"
        entry = count(store, looked.plan, side=here, item=counted[0], n=counted[1], way=way, by=by, now=now())
    _told(entry)


def _sign(
    jobs: JobFolder,
    revision: Revision,
    what: str,
    name: str,
    certificate: str,
    paper: str,
    tables: ShopTables | None,
) -> None:
    there, job = store_of(jobs.folder), revision.job()
    after = there.newest_seq(revision.name) if there else 0
    with progress_bar() as progress:
        examination = examine(job, tables, progress=progress)
    looked = looked_at(revision, examination)
    state = hold_state(there, looked.plan)
    try:
        refuse_open(what, looked, state)
    except NotSignedError as error:
        _refuse(error)
    put_text(tell(looked.statement(what)))
    by = _signer(jobs, name, certificate)
    store = Store.opened(jobs.folder)
    recorded = recorded_of(
        jobs.folder,
        revision.name,
        job,
        state,
        on=now().date(),
        head=store.head(),
        signing=signing_of(what, by),
    )
    with progress_bar() as progress:
        ready = prepared(
            revision,
            what,
            examination,
            stamp=now(),
            paper=paper_of(paper),
            recorded=recorded,
            progress=progress,
        )
    _told(sign(store, ready, by=by, now=now(), after=after))


def _sign_clock(jobs: JobFolder, name: str) -> None:
    store = Store.as_it_is(jobs.folder)
    store.refuse_unguarded()
    put_text(tell(clock_said(store, now())))
    if not store.people():
        raise RecordError.saying("clock.nobody", where="--clock")
    _told(set_clock(store, by=_signer(jobs, name, ""), now=now()))


def _signer(jobs: JobFolder, name: str, certificate: str) -> Signer:
    store = store_of(jobs.folder)
    is_first = not (store and store.people())
    name = who_records(store, name)
    if is_first:
        put("command.sign.first", who=name, to_err=True)
    phrase = click.prompt(
        words("command.sign.pass_phrase"), hide_input=True, confirmation_prompt=is_first, err=True
    )
    return who_signs(jobs.folder, name, phrase, now=now(), certificate=certificate)


def _only_side(plan: Plan) -> str:
    if len(plan.sides) > 1:
        raise click.UsageError(words("command.sign.which_side"))
    return plan.sides[0].side


def _tell_open(looked: Looked, state: HoldState) -> None:
    found = in_the_way(WORK, state, looked.held_back())
    put("command.sign.open" if found else "command.sign.nothing_open", n=len(found))
    for one in found:
        put_text(tell(one.why), indent="  ")


def _told(entry: Entered) -> None:
    put("command.sign.done", number=entry.seq, by=entry.author, head=entry.head)


def _refuse(error: NotSignedError) -> NoReturn:
    put("command.refused_because", why=str(error), to_err=True)
    for one in error.open:
        click.echo(f"  {tell(one)}", err=True)
    sys.exit(_REFUSED)
