"""Hold points and counts of a job as the chain has them: what was initialed and counted, and what is open."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import TypeVar

from msgspec import Struct

from hatchwright.airworthiness.holds import Counted, Hold, Initials, Open, before, open_counts, open_holds
from hatchwright.errors import RecordError
from hatchwright.records.canonical import Plain
from hatchwright.records.entry import Entered
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Person, Role
from hatchwright.records.store import Store, sha256_of
from hatchwright.said import Said, said
from hatchwright.words.tell import tell
from hatchwright.workflow.people import Signer
from hatchwright.workflow.revision import Revision
from hatchwright.workflow.vouched import vouched

PLAN, WORK = "plan", "work"
"""What a signed revision is signed for."""

_SAYS = {Kind.SIGNED: {"for", "plan"}, Kind.HOLD: {"side", "statement"}}
"""What an entry of this program says; another's is passed over."""

MOST_COUNTED = 100_000
LONGEST_ITEM = 80
LONGEST_INITIALS = 12
_MARK_DIGITS = 8


_OfSide = TypeVar("_OfSide", "SideOfPlan", "SideHolds")


class SideOfPlan(Struct, frozen=True):
    """One side of a job as holds need it.

    Args:
        side: left, right or center.
    """

    side: str
    holds: tuple[Hold, ...]


class Plan(Struct, frozen=True):
    """What is to be made, as holds are passed for it.

    Args:
        name: of the job file.
        revision: of the job, as typed.
        mark: SHA-256 of all that is to be made; another one opens every hold again.
        of: the job as it was read.
    """

    name: str
    revision: str
    mark: str
    sides: tuple[SideOfPlan, ...]
    of: Revision

    @property
    def called(self) -> str:
        """The plan in a few letters, such as ``A / 1F04C2D9``."""
        return f"{self.revision} / {self.mark[:_MARK_DIGITS].upper()}"


class SideHolds(Struct, frozen=True):
    """Hold points and counts of one side.

    Args:
        open: holds that are open; open_counts: and what is open of the count.
    """

    side: str
    holds: tuple[Hold, ...]
    initials: tuple[Initials, ...]
    counted: tuple[Counted, ...]
    open: tuple[Open, ...]
    open_counts: tuple[Open, ...]


class HoldState(Struct, frozen=True):
    """Everything about holds that the chain knows of a job.

    Args:
        signed_plan: the newest signature for exactly this plan, None without.
        was_signed: whether another plan of this job was signed.
        seqs: numbers of the entries that this rests on.
        called: the plan, as initials for it name it.
    """

    signed_plan: Entered | None
    was_signed: bool
    sides: tuple[SideHolds, ...]
    seqs: tuple[int, ...]
    called: str

    @property
    def open(self) -> tuple[Open, ...]:
        """Every hold and every count that is open, with its side where there are two."""
        found = ((side.side, one) for side in self.sides for one in (*side.open, *side.open_counts))
        return tuple(_on_side(*each) if len(self.sides) > 1 else each[1] for each in found)


def _on_side(side: str, one: Open) -> Open:
    return Open(one.name, said("record_sign.on_side", side=said(f"side.{side}"), why=one.why))


def hold_state(store: Store | None, plan: Plan) -> HoldState:
    """How the holds of a job stand.

    Args:
        store: None where nothing was recorded in the folder yet.
    """
    signed = _vouched(store, plan.name, Kind.SIGNED)
    plans = [entry for entry, _ in signed if entry.said.get("for") == PLAN]
    own = [entry for entry in plans if entry.said.get("plan") == plan.mark]
    passed = _vouched(store, plan.name, Kind.HOLD)
    since = own[0].seq if own else 0
    return HoldState(
        signed_plan=own[-1] if own else None,
        was_signed=bool(plans),
        sides=tuple(_side(one, passed, plan.called, since) for one in plan.sides),
        seqs=tuple(entry.seq for entry, _ in passed),
        called=plan.called,
    )


def _vouched(store: Store | None, name: str, kind: Kind) -> tuple[tuple[Entered, Person], ...]:
    found = vouched(store, store.entries(about=name, kind=kind)) if store else ()
    return tuple((entry, person) for entry, person in found if _SAYS[kind] <= entry.said.keys())


def _side(of: SideOfPlan, passed: Iterable[tuple[Entered, Person]], called: str, since: int) -> SideHolds:
    initials = tuple(
        Initials(
            body["hold"],
            of.side,
            entry.author,
            person.role is Role.INSPECTOR,
            body["plan"],
            entry.at,
            body["initials"],
        )
        for entry, person in passed
        if (body := entry.said).get("side") == of.side and "hold" in body
    )
    counted = _counted(of.side, (entry for entry, _ in passed), since)
    is_open = open_holds(of.holds, initials, revision=called)
    return SideHolds(of.side, of.holds, initials, counted, is_open, open_counts(counted))


def _counted(side: str, entries: Iterable[Entered], since: int) -> tuple[Counted, ...]:
    """Each thing of a side: all that went in since it was last even, and what came out at the last count.

    What goes in later is added, so that nothing that is inside is forgotten; none going in is a correction.

    Args:
        since: number of the entry that signed the plan first; what was even before it was counted for other work.
    """
    found: dict[str, Counted] = {}
    newest: dict[str, int] = {}
    for entry in entries:
        body = entry.said
        if body["side"] != side or "count" not in body:
            continue
        item, n = body["item"], body["n"]
        newest[item] = entry.seq
        went_in, came_out = (found[item].went_in, found[item].came_out) if item in found else (None, None)
        if body["count"] == "out":
            found[item] = Counted(item, side, went_in, n)
        else:
            inside = 0 if went_in is None or went_in == came_out or n == 0 else went_in
            found[item] = Counted(item, side, inside + n)
    return tuple(one for one in found.values() if newest[one.item] > since or open_counts((one,)))


def pass_hold(
    store: Store,
    plan: Plan,
    *,
    side: str,
    hold: str,
    initials: str,
    by: Signer,
    now: datetime,
    seen: int | None = None,
) -> Entered:
    """Initial a hold point, signed by who looked.

    Args:
        seen: number of the newest entry about the job that its page showed, so that a form which is sent twice passes
            nothing a second time; None where nobody looked at a page.
    Raises:
        RecordError: this plan is not signed, there is no such hold, one before it is open, the same person was there
            already, only an inspector may pass it, or the job was changed meanwhile.
    """
    refuse_viewer(by.person)
    initials = _line(
        initials,
        LONGEST_INITIALS,
        RecordError.saying("record_sign.no_initials", where="initials", most=LONGEST_INITIALS),
    )
    after, state = _after(store, plan, seen), hold_state(store, plan)
    if state.signed_plan is None:
        raise RecordError.saying("record_sign.plan_first", where=hold)
    here = _side_named(state.sides, side)
    if hold not in {str(one.name) for one in here.holds}:
        raise RecordError.saying("record_sign.no_hold", where="hold", hold=hold, side=side)
    _refuse_out_of_turn(here, hold, by.person, plan.called)
    called = tell(said(f"forms.hold.{hold}"))
    body: dict[str, Plain] = {
        "hold": hold, "side": side, "initials": initials, "plan": plan.called,
        "statement": tell(said("record_sign.statement.hold", hold=called, side=side, plan=plan.called)),
        "file": {"sha256": sha256_of(plan.of.whole.raw)},
    }  # fmt: skip
    return _add(store, plan, body, by, now, after)


def _side_named(sides: Sequence[_OfSide], side: str) -> _OfSide:
    found = next((one for one in sides if one.side == side), None)
    if found is None:
        raise RecordError.saying("record_sign.no_side", where="side", side=side)
    return found


def _refuse_out_of_turn(here: SideHolds, hold: str, person: Person, called: str) -> None:
    if first := before(hold, here.holds, here.initials, revision=called):
        raise RecordError(
            said("record_sign.one_before"),
            where=hold,
            remedy=said("record_sign.one_before.do", why=first.why),
        )
    own = next(one for one in here.holds if one.name == hold)
    if own.by_inspector and person.role is not Role.INSPECTOR:
        raise RecordError.saying("record_sign.by_inspector", where=hold, who=person.name)
    current = [one for one in here.initials if one.hold == hold and one.revision == called]
    if any(one.by == person.name for one in current):
        if own.people > 1:
            raise RecordError.saying("record_sign.second_is_another", where=hold, who=person.name)
        raise RecordError.saying("record_sign.passed_already", where=hold, who=person.name)


def count(
    store: Store,
    plan: Plan,
    *,
    side: str,
    item: str,
    n: int,
    way: str,
    by: Signer,
    now: datetime,
    seen: int | None = None,
) -> Entered:
    """Count a thing in or out, signed by who counted.

    Args:
        n: how many [-].
        way: ``in`` or ``out``.
        seen: as of `pass_hold`: what is counted out twice would hide what is left in the wing.
    Raises:
        RecordError: nothing that can be counted, or the job was changed meanwhile.
    """
    refuse_viewer(by.person)
    item = _line(
        item, LONGEST_ITEM, RecordError.saying("record_sign.no_item", where="count", most=LONGEST_ITEM)
    )
    if not 0 <= n <= MOST_COUNTED or way not in ("in", "out"):
        raise RecordError.saying("record_sign.no_count", where="count", most=MOST_COUNTED)
    _side_named(plan.sides, side)
    after = _after(store, plan, seen)
    statement = tell(said(f"record_sign.statement.count_{way}", n=n, item=item, side=side))
    body: dict[str, Plain] = {"count": way, "side": side, "item": item, "n": n, "statement": statement}
    return _add(store, plan, body, by, now, after)


def _after(store: Store, plan: Plan, seen: int | None) -> int:
    return store.newest_seq(plan.name) if seen is None else seen


def _add(
    store: Store, plan: Plan, body: Mapping[str, Plain], by: Signer, now: datetime, after: int
) -> Entered:
    raw = plan.of.whole.raw
    kept = {sha256_of(raw): raw} if "file" in body else {}
    with plan.of.standing():
        return store.add(
            Kind.HOLD, plan.name, body, author=by.person.name, now=now, key=by.key, kept=kept, after=after
        )


def refuse_viewer(person: Person) -> None:
    """Refuse who may only look.

    Raises:
        RecordError: he may neither record nor sign.
    """
    if not person.may(Role.MECHANIC):
        raise RecordError.saying("record_sign.may_not_sign", where="name", who=person.name)


def _line(typed: str, most: int, refusal: RecordError) -> str:
    line = " ".join(typed.split())
    if not line or len(line) > most or not line.isprintable():
        raise refusal
    return line


def in_the_way(what: str, state: HoldState, held_back: Iterable[Said]) -> tuple[Open, ...]:
    """What keeps a plan or the finished work from being signed, each with the reason.

    Args:
        what: `PLAN` or `WORK`.
        held_back: what is said of each side whose answers hold work back.
    """
    found = [Open("verdict", why) for why in held_back]
    if what == PLAN:
        return tuple(found)
    if state.signed_plan is None:
        found.append(
            Open("plan", said("record_sign.plan_changed" if state.was_signed else "record_sign.no_plan"))
        )
    return (*found, *state.open)
