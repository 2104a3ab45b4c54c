"""`hatchwright record`: keep a job as it is, list what was kept, or write a kept revision out again."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import PATH, now, overwrite_option, put, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.records.store import Store
from hatchwright.words.tell import tell
from hatchwright.workflow.job_folder import JobFolder
from hatchwright.workflow.record import record_job, store_of, who_records
from hatchwright.workflow.revisions import (
    KeptRevision,
    contents_of,
    past_said,
    revision_numbered,
    revision_values,
    revisions_of,
)
from hatchwright.workflow.write_files import write_files


@click.command(name="record", help=words("command.record.help"))
@click.argument("job", type=PATH)
@click.option("--name", default="", help=words("command.record.name"))
@click.option("--note", default="", help=words("command.record.note"))
@click.option("--history", is_flag=True, help=words("command.record.history"))
@click.option("--number", type=click.IntRange(1), help=words("command.record.number"))
@click.option("--out", type=PATH, help=words("command.record.out"))
@overwrite_option
@click.option("--json", "as_json", is_flag=True, help=words("command.record.json"))
def command(
    job: Path,
    name: str,
    note: str,
    history: bool,
    number: int | None,
    out: Path | None,
    overwrite: bool,
    as_json: bool,
) -> None:
    """Record a job, list its revisions, or open one."""
    if out and not number:
        raise click.UsageError(words("command.record.out_of_which"))
    jobs = JobFolder(job.parent)
    jobs.path(job.name)
    if history or number:
        shown = _kept(jobs, job.name, number)
    else:
        author = who_records(store_of(jobs.folder), name)
        recorded = record_job(jobs, job.name, author=author, now=now(), note=note)
        if not as_json:
            id = "command.record.done" if recorded.is_new else "command.record.same"
            put(id, number=recorded.entry.seq, head=recorded.entry.head, by=recorded.entry.author)
        shown = (
            (revision_numbered(Store.opened(jobs.folder), job.name, recorded.entry.seq),) if as_json else ()
        )
    if as_json:
        put_json([revision_values(one) for one in shown])
    else:
        for one in shown:
            put_text(tell(past_said(one)))
    if number and out:
        for path in write_files(contents_of(Store.opened(jobs.folder), shown[0]), out, overwrite=overwrite):
            click.echo(path)


def _kept(jobs: JobFolder, name: str, number: int | None) -> tuple[KeptRevision, ...]:
    """What was kept of a job; looking makes no records."""
    store = store_of(jobs.folder)
    if store is None:
        put("command.record.none", to_err=True)
        return ()
    return (revision_numbered(store, name, number),) if number else revisions_of(store, name)
