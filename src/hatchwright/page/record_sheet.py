"""What the page shows of a job's records: holds and counts, what may be signed, the elements of each record, and the
history."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from msgspec import Struct

from hatchwright.airworthiness.holds import Counted, Hold, Initials, Open
from hatchwright.airworthiness.record_elements import Element, Standing, elements_of
from hatchwright.airworthiness.record_facts import RecordFacts
from hatchwright.documents.record_facts import Signing
from hatchwright.documents.record_papers import PAPERS
from hatchwright.documents.recorded import Recorded
from hatchwright.page.screen import Asked
from hatchwright.records.entry import Entered
from hatchwright.records.store import Store
from hatchwright.said import Said, Value, said
from hatchwright.units import Unit
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline
from hatchwright.workflow.examine import Examination, examine
from hatchwright.workflow.hold_points import PLAN, WORK, HoldState, SideHolds, hold_state, in_the_way
from hatchwright.workflow.record_facts import recorded_of
from hatchwright.workflow.revision import Revision
from hatchwright.workflow.revisions import KeptRevision, is_as_now, past_said, revisions_of, shown_time
from hatchwright.workflow.sign import Looked, looked_at


class HoldRow(Struct, frozen=True):
    """One hold point of one side.

    Args:
        key: side and name, as the page sends it.
        asks: what is looked at, and who has to.
        passed: who passed it.
        why: why it is open, "" where it is closed.
        is_next: whether it is the one that may be passed now.
    """

    key: str
    called: str
    asks: tuple[str, ...]
    passed: tuple[str, ...]
    why: str
    is_next: bool


class CountRow(Struct, frozen=True):
    """One thing that was counted; `why` it is open, "" where as much came out as went in."""

    item: str
    went_in: str
    came_out: str
    why: str


class ElementRow(Struct, frozen=True):
    """One element of a record.

    Args:
        is_told: what is known, "" for a blank.
        standing: what the blank is: missing, by hand, not asked; "" where it is known.
        is_open: whether the rule asks for it and it is not there.
    """

    called: str
    is_told: str
    standing: str
    where: str
    is_open: bool


class RecordTable(Struct, frozen=True):
    """The elements of one record; `missing` counts those that the rule asks for and that are not there."""

    title: str
    how: str
    rows: tuple[ElementRow, ...]
    missing: int


class SideRecords(Struct, frozen=True):
    """Holds, counts and records of one side.

    Args:
        count_why: why the count is open where nothing was counted yet.
    """

    side: str
    title: str
    holds: tuple[HoldRow, ...]
    tables: tuple[RecordTable, ...]
    counts: tuple[CountRow, ...]
    count_why: str


class ToSign(Struct, frozen=True):
    """What may be signed.

    Args:
        what: ``plan`` or ``work``.
        title, press: what it is, and what the button says.
        signed: by whom and when it was signed as it is now, "" where it was not.
        in_the_way: what keeps it from being signed, none where nothing does.
    """

    what: str
    title: str
    press: str
    statement: str
    signed: str
    in_the_way: tuple[str, ...]


class PastRow(Struct, frozen=True):
    """One revision of the history."""

    seq: int
    told: str


class RecordView(Struct, frozen=True):
    """The records of a job in words.

    Args:
        stands: how the job stands to its newest revision.
        seen: number of the newest entry about the job, which a signature is put after.
        is_first: whether nobody is named in these records yet.
    """

    title: str
    plan: str
    verdicts: tuple[tuple[str, bool], ...]
    stands: str
    to_sign: tuple[ToSign, ...]
    sides: tuple[SideRecords, ...]
    history: tuple[PastRow, ...]
    head: str
    seen: int
    is_first: bool
    awaits_strength: bool


def record_view(asked: Asked, revision: Revision, store: Store | None, *, on: date) -> RecordView:
    """Gather what is shown; nothing is recorded by looking.

    Args:
        store: None where nothing was recorded in the folder yet.
        on: day for which the next due is told.
    Raises:
        JobError: the job is not sound.
        RecordError: the records can't be read.
    """
    examination = examine(revision.job(), asked.shop, with_strength=False)
    looked = looked_at(revision, examination)
    state = hold_state(store, looked.plan)
    past = revisions_of(store, asked.name) if store else ()
    work = next(
        (one for one in past if one.what == WORK and one.is_vouched and is_as_now(one, revision)), None
    )
    signing = Signing(signer=work.entry.author, certificate=work.certificate) if work else Signing()
    recorded = recorded_of(asked.folder, asked.name, examination.job, state, on=on, signing=signing)
    unit = examination.job.unit
    sides = zip(examination.sides, state.sides, strict=True)
    return RecordView(
        title=looked.title,
        plan=looked.plan.called,
        verdicts=tuple((tell(one, unit), is_held) for one, is_held in _verdicts(examination)),
        stands=tell(_stands(past, revision)),
        to_sign=(
            _to_sign(PLAN, looked, state, state.signed_plan, unit),
            _to_sign(WORK, looked, state, work.entry if work else None, unit),
        ),
        sides=tuple(_side(one, held, recorded, looked.plan.called) for one, held in sides),
        history=tuple(PastRow(one.seq, tell(past_said(one))) for one in past),
        head=store.head() if store else "",
        seen=store.newest_seq(asked.name) if store else 0,
        is_first=not (store and store.people()),
        awaits_strength=any(one.verdict.awaits_strength for one in examination.sides),
    )


def _verdicts(examination: Examination) -> Iterator[tuple[Said, bool]]:
    for one in examination.sides:
        side = said(f"side.{one.job.aircraft.side}")
        yield said("record_sign.held_back", side=side, verdict=headline(one.verdict)), one.verdict.holds_back


def _stands(past: tuple[KeptRevision, ...], revision: Revision) -> Said:
    if not past:
        return said("page_record.never")
    told: dict[str, Value] = {
        "number": past[0].seq,
        "by": past[0].entry.author,
        "at": shown_time(past[0].entry.at),
    }
    if not is_as_now(past[0], revision):
        return said("page_record.changed", **told)
    return said("page_record.same_signed" if past[0].what else "page_record.same", **told)


def _to_sign(what: str, looked: Looked, state: HoldState, signed: Entered | None, unit: Unit) -> ToSign:
    found = in_the_way(what, state, looked.held_back())
    told = (
        said("page_record.signed_by", by=signed.author, at=shown_time(signed.at), number=signed.seq)
        if signed
        else ""
    )
    why = tuple(tell(one.why, unit) for one in found)
    title, press = tell(said(f"page_record.sign.{what}")), tell(said(f"page_record.press.{what}"))
    return ToSign(what, title, press, tell(looked.statement(what), unit), tell(told), why)


def _side(examination: Examination, held: SideHolds, recorded: Recorded, called: str) -> SideRecords:
    job = examination.job
    is_open = {one.name: tell(one.why) for one in held.open}
    return SideRecords(
        held.side,
        tell(said("page_record.side", side=said(f"side.{job.aircraft.side}"))),
        tuple(_hold(one, held, is_open.get(one.name, ""), called) for one in held.holds),
        tuple(_tables(recorded.facts_of(examination.layout), job.kind, job.unit)),
        tuple(_count(one, held.open_counts) for one in held.counted),
        "" if held.counted else " ".join(tell(one.why) for one in held.open_counts),
    )


def _hold(hold: Hold, held: SideHolds, why: str, called: str) -> HoldRow:
    asks = [said(f"forms.hold.{hold.name}.do")]
    asks += [said("page_record.by_inspector")] if hold.by_inspector else []
    asks += [said("page_record.by_two")] if hold.people > 1 else []
    passed = (_passed(one) for one in held.initials if one.hold == hold.name and one.revision == called)
    return HoldRow(
        f"{held.side}:{hold.name}",
        tell(said(f"forms.hold.{hold.name}")),
        tuple(map(tell, asks)),
        tuple(map(tell, passed)),
        why,
        bool(held.open) and held.open[0].name == hold.name,
    )


def _passed(one: Initials) -> Said:
    id = "page_record.passed_inspector" if one.is_inspector else "page_record.passed"
    return said(id, initials=one.letters, by=one.by, at=shown_time(one.at))


def _count(one: Counted, open_counts: Iterable[Open]) -> CountRow:
    why = " ".join(tell(each.why) for each in open_counts if each.name == one.item)
    went_in, came_out = ("" if n is None else str(n) for n in (one.went_in, one.came_out))
    return CountRow(one.item, went_in, came_out, why)


def _element(one: Element, told: Callable[[Value], str]) -> ElementRow:
    is_there = one.standing is Standing.PRESENT
    standing = "" if is_there else told(said(f"record.standing.{one.standing}"))
    is_open = one.by_rule and one.standing in (Standing.MISSING, Standing.BY_HAND)
    return ElementRow(told(one.called), " ".join(map(told, one.values)), standing, f"{one.source}", is_open)


def _tables(facts: RecordFacts, kind: str, unit: Unit) -> Iterator[RecordTable]:
    def told(what: Value) -> str:
        return tell(in_words_of(kind, what), unit)

    for _, records in PAPERS:
        for record in records:
            rows = tuple(_element(one, told) for one in elements_of(record, facts))
            missing = sum(row.is_open for row in rows)
            yield RecordTable(
                told(said(f"record.{record}")), told(said(f"record.{record}.how")), rows, missing
            )
