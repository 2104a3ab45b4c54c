"""The gate before the cut: what is read out, looked at and initialled before anything touches the skin."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.drawings.bay_structure import region_words, row_words
from hatchwright.drawings.figures import unit_of
from hatchwright.drawings.page_frame import aircraft_words, side_word
from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.job.skin import Mandate
from hatchwright.judged import Status


def gate_items(job: Job, findings: Iterable[Finding], *, has_template: bool) -> Iterator[str]:
    """What must be initialled before the cut.

    Args:
        findings: those that stop are named, to be settled first.
        has_template: whether a template is cut for the job.
    Yields:
        str: one line for each pair of initials.
    """
    unit, bay, findings = unit_of(job), job.bay, tuple(findings)
    yield (
        "Data that this work is done to are in hand, at the revision they name: "
        f"{mandate_words(job.mandate)}."
    )
    yield (
        f"Right aircraft and right side, read out by a second person: {aircraft_words(job)}, "
        f"{side_word(job)} side, " + (f"{job.aircraft.surface} skin.")
    )
    rows = "; ".join(row_words(row, unit) for row in bay.rows)
    yield (
        f"Right bay: {rows}; each measured again."
        if rows
        else "Right bay: measured again from two landmarks."
    )
    open_points = sorted({f.code for f in findings if f.status in (Status.STOP, Status.UNKNOWN)})
    if open_points:
        yield f"Settled, with the name of who accepted it, and on which data: {', '.join(open_points)}."
    if any(finding.code == "R304" and finding.status is not Status.PASS for finding in findings):
        yield (
            "How the doubler comes in is settled (R304): threaded in, split where the data allow it, or another way; "
            "tried with a cardboard ring of its size."
        )
    yield "Fuel and vapour away as the maker says, battery off, nothing flammable near, extinguisher at hand."
    yield "Aircraft supported, the structure unloaded, controls locked."
    behind = "; ".join(region_words(one, unit) for one in (*bay.keep_outs, *bay.flanges))
    yield (
        "Looked behind the skin with light and mirror or borescope, and found nothing there"
        f"{f' but: {behind}' if behind else '; nothing was entered'}."
    )
    if has_template:
        yield "Template tried on scrap, measured, and right."
    yield "Everything that was not checked, as listed, has been looked at by someone who may."


def mandate_words(mandate: Mandate) -> str:
    """What asks for the work.

    Returns:
        str: such as ``directive M-101, bulletin B-7 revision C, kit K-7``.
    """
    bulletin = f"bulletin {mandate.bulletin}" if mandate.bulletin else ""
    revision = f" revision {mandate.revision}" if mandate.revision else ""
    parts = (
        f"{'owner’s order' if mandate.kind == 'owner' else mandate.kind} {mandate.reference}".rstrip(),
        f"{bulletin}{revision}".lstrip(),
        f"kit {mandate.kit}" if mandate.kit else "",
    )
    return ", ".join(part for part in parts if part)
