"""Sign a job: its file, the mark of its judgments and its papers go into the chain as the bytes that were signed.

What is signed for is said in one sentence, which is part of what is signed: the plan before anything is cut, or the
finished work, which is refused while a hold or a count is open or the answers hold work back.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from importlib.metadata import version
from pathlib import Path

from msgspec import Struct

from hatchwright.airworthiness.holds import holds_of
from hatchwright.documents.record_facts import Signing
from hatchwright.documents.recorded import Recorded
from hatchwright.documents.verdict_on_paper import entries_named
from hatchwright.drawings.made_file import MadeFile
from hatchwright.drawings.writers import AnyPaper, Paper
from hatchwright.errors import RecordError
from hatchwright.progress import Progress, unheard
from hatchwright.records.canonical import Plain
from hatchwright.records.entry import Entered
from hatchwright.records.kinds import Kind
from hatchwright.records.store import Store, sha256_of
from hatchwright.said import Listed, Said, said
from hatchwright.verdict import Verdict
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, line_said, to_enter_said
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.hold_points import (
    PLAN,
    WORK,
    HoldState,
    Plan,
    SideOfPlan,
    hold_state,
    in_the_way,
    refuse_viewer,
)
from hatchwright.workflow.judgments import judgments_of, plan_mark
from hatchwright.workflow.papers import papers
from hatchwright.workflow.people import Signer, name_first, people_of, signer
from hatchwright.workflow.revision import Revision, kept_revisions

_NOTHING = Recorded()
_OF_WORK = ("card", "overview", "layout", "lists", "as-built", "looks", "log", "record", "annex")
_PAPERS: dict[str, tuple[str, ...]] = {PLAN: (), WORK: _OF_WORK}
"""Papers that are signed, by name; the usual ones of a job where none is named."""


class NotSignedError(RecordError):
    """A signature is refused while something is open; nothing was signed.

    Args:
        open: all of it, a sentence each.
    """

    def __init__(self, what: str, name: str, open: tuple[Said, ...]) -> None:
        self.open = open
        super().__init__(
            said(f"record_sign.refused.{what}", n=len(open)),
            where=name,
            remedy=said(f"record_sign.refused.{what}.do"),
        )
        self.args = (what, name, open)


class Looked(Struct, frozen=True):
    """A job as it is about to be signed.

    Args:
        verdicts: of each side.
    """

    revision: Revision
    plan: Plan
    title: str
    registration: str
    verdicts: tuple[Verdict, ...]

    def held_back(self) -> tuple[Said, ...]:
        """Each side on which nothing may be cut, drilled or riveted, and what holds it back."""
        return tuple(told for one in self.verdicts if one.holds_back for told in _held_back(one))

    def statement(self, what: str) -> Said:
        """What is signed."""
        verdict = Listed(
            tuple(
                said("record_sign.verdict_of", side=said(f"side.{one.side.lower()}"), verdict=headline(one))
                for one in self.verdicts
            ),
            ";",
        )
        return said(
            f"record_sign.statement.{what}",
            title=self.title,
            registration=self.registration or said("record_sign.no_registration"),
            plan=self.plan.called,
            verdict=verdict,
        )


def _held_back(verdict: Verdict) -> Iterator[Said]:
    side = said(f"side.{verdict.side.lower()}")
    yield said("record_sign.held_back", side=side, verdict=headline(verdict))
    for line in verdict.open_lines:
        if line.status.holds_back:
            yield said("record_sign.line", status=line.status, line=line_said(line))
    if lacking := [one for one in verdict.to_enter if one.status.holds_back]:
        told = to_enter_said(entries_named(lacking))
        yield said("record_sign.line", status=lacking[0].status, line=told)
    if verdict.awaits_strength:
        yield said("verdict.strength_not_run")


class Prepared(Struct, frozen=True):
    """All that goes into a signed revision but who signs.

    Args:
        judgments: every answer in one canonical text.
        files: papers and pictures, each as the bytes that are kept.
    """

    looked: Looked
    what: str
    judgments: bytes
    files: tuple[MadeFile, ...]


def looked_at(revision: Revision, examination: Examination) -> Looked:
    """A job with its answers as it is about to be signed."""
    job = examination.job
    sides = tuple(SideOfPlan(one.job.aircraft.side, holds_of(one.layout)) for one in examination.sides)
    mark = plan_mark(job, revision.beside)
    plan = Plan(revision.name, job.revision, mark, sides, revision)
    verdicts = tuple(one.verdict for one in examination.sides)
    return Looked(revision, plan, job.title, job.aircraft.registration, verdicts)


def prepared(
    revision: Revision,
    what: str,
    examination: Examination,
    *,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    recorded: Recorded = _NOTHING,
    progress: Progress = unheard,
) -> Prepared:
    """Make the papers that are signed with a job.

    Args:
        examination: of the job, with its strength.
        recorded: what records and fleet file tell of the job, with the head that the papers bear.
    Raises:
        ExportError: a paper did not read back as it was drawn.
    """
    files = papers(
        examination,
        stamp=stamp,
        paper=paper,
        stem=revision.name.removesuffix(".toml"),
        only=_PAPERS[what],
        recorded=recorded,
        progress=progress,
    )
    return Prepared(looked_at(revision, examination), what, judgments_of(examination), files)


def refuse_open(what: str, looked: Looked, state: HoldState) -> None:
    """Refuse a signature while something is in its way.

    Raises:
        NotSignedError: it says all that is open.
    """
    if found := in_the_way(what, state, looked.held_back()):
        raise NotSignedError(what, looked.revision.name, tuple(one.why for one in found))


def signing_of(what: str, by: Signer) -> Signing:
    """How the record papers name who signs: nobody but who signs the finished work."""
    return Signing(signer=by.person.name, certificate=by.person.certificate) if what == WORK else Signing()


def who_signs(folder: Path, name: str, pass_phrase: str, *, now: datetime, certificate: str = "") -> Signer:
    """Who opens his key; the first one of a folder is named by it.

    Args:
        certificate: kind and number of the certificate of who is named now; "" where none is held.
    Raises:
        RecordError: nobody of that name has that pass phrase, or a name or a pass phrase that can't be taken.
    """
    if people := people_of(folder):
        return signer(people, name, pass_phrase)
    return name_first(folder, name=name, pass_phrase=pass_phrase, now=now, certificate=certificate)


def sign(store: Store, ready: Prepared, *, by: Signer, now: datetime, after: int) -> Entered:
    """Put a signed revision into the chain.

    Args:
        after: number of the newest entry about the job that who signs has seen.
    Raises:
        RecordError: something is in its way, the job was changed or somebody recorded something in between, or the
            store refuses.
    """
    looked, what = ready.looked, ready.what
    refuse_viewer(by.person)
    state = hold_state(store, looked.plan)
    refuse_open(what, looked, state)
    known = kept_revisions(store.entries(about=looked.revision.name))
    files: list[Plain] = [
        {
            "name": one.name, "kind": one.kind.value, "side": one.side, "written": one.written.value,
            "sha256": sha256_of(one.content),
        }
        for one in ready.files
    ]  # fmt: skip
    verdicts: list[Plain] = [
        {"side": one.side, "status": one.status.value, "mark": one.mark, "words": tell(headline(one))}
        for one in looked.verdicts
    ]
    body: dict[str, Plain] = {
        **looked.revision.body(known),
        "for": what,
        "statement": tell(looked.statement(what)),
        "plan": looked.plan.mark,
        "judgments": {"sha256": sha256_of(ready.judgments)},
        "verdicts": verdicts,
        "papers": files,
        "holds": [*state.seqs] if what == WORK else [],
        "certificate": by.person.certificate,
        "program": version("hatchwright"),
    }
    kept = looked.revision.kept() | {sha256_of(one.content): one.content for one in ready.files}
    kept[sha256_of(ready.judgments)] = ready.judgments
    with looked.revision.standing():
        return store.add(
            Kind.SIGNED,
            looked.revision.name,
            body,
            author=by.person.name,
            now=now,
            key=by.key,
            kept=kept,
            after=after,
        )
