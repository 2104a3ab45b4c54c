"""Answers beside the margins: the codes of strength, what is only told, and what is screened."""

from __future__ import annotations

from msgspec.structs import replace

from hatchwright.finding import Finding, stated
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Status
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Said
from hatchwright.strength.worked import Worked, strength_of
from hatchwright.tables.allowables import Allowables
from hatchwright.tables.cited import Cited
from hatchwright.workings import Rests, Working


def strength_code(code: str, *reads: str, theory: str, shelf: Shelf = Shelf.HOLDS, cause: str = "") -> str:
    """Enter a code of strength into the register, and give it back.

    Args:
        theory: page of docs/theory with its method.
    """
    enter(Entry(code, shelf, cause=cause, reads=("loads", *reads), theory=f"docs/theory/{theory}.md"))
    return code


def told(
    code: str,
    status: Status,
    subject: Said,
    rests: Rests,
    *advice: Said | str,
    limit: float | None = None,
    unit: str = "",
    enter: tuple[str, ...] = (),
) -> Finding:
    """Tell what has no margin.

    Args:
        rests: where it comes from; of a worked value, its number and working too.
        limit: what the number is read against [unit].
        enter: entries of the job that are missing.
    """
    worked = rests if isinstance(rests, Worked) else None
    return stated(
        code,
        status,
        subject,
        rests,
        *advice,
        value=worked.value if worked else None,
        limit=limit,
        unit=worked.unit if worked else unit,
        working=worked.working if worked else (),
        enter=enter,
    )


def edge_screened(
    worked: Worked, cap: Cited, allowed: Allowables, more: tuple[Working, ...] = ()
) -> Judgement:
    """Elastic stress at an edge at limit load: over a share of yield it cautions, over yield it stops.

    Past yield the stress is no longer that of the elastic answer, and what it does to the edge needs an engineer.

    Args:
        cap: share of yield up to which nothing is asked.
        more: workings before its own.
    """
    if worked.value <= allowed.fty_psi + FLOAT_NOISE:
        return screened(worked, cap.value * allowed.fty_psi, cap, more)
    fty = strength_of(allowed, "Fty")
    return replace(screened(worked, fty.value, fty, (*more, *fty.working)), fails_as=Status.STOP)


def screened(worked: Worked, most: float, rests: Rests, more: tuple[Working, ...] = ()) -> Judgement:
    """A worked value held to a greatest value that only cautions.

    Args:
        most: the greatest [unit of the value].
        more: workings before its own.
    """
    return Judgement(
        Measure(worked.symbol, worked.value, unit=worked.unit),
        (Bound(most, rests.source, rests.grade),),
        at_least=False,
        fails_as=Status.CAUTION,
        more=tuple(dict.fromkeys((*more, *worked.working))),
    )
