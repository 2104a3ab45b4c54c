"""The gate before the cut: what is read out, looked at and initialed before anything touches the skin."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.drawings.bay_structure import region_said, row_said
from hatchwright.drawings.page_frame import aircraft_said
from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.job.skin import Mandate
from hatchwright.judged import Status
from hatchwright.said import Listed, Said, said


def gate_items(job: Job, findings: Iterable[Finding], *, has_template: bool) -> Iterator[Said]:
    """What must be initialed before the cut; the findings that stop are named, to be resolved first."""
    bay, findings = job.bay, tuple(findings)
    yield said("card.gate.data", mandate=mandate_said(job.mandate))
    yield said(
        "card.gate.right_side",
        aircraft=aircraft_said(job),
        side=said(f"side.{job.aircraft.side}"),
        surface=said(f"surface.{job.aircraft.surface}"),
    )
    rows = Listed(tuple(row_said(row) for row in bay.rows), ";")
    yield said("card.gate.right_bay" if bay.rows else "card.gate.right_bay_by_landmarks", rows=rows)
    if codes := sorted({f.code for f in findings if f.status.holds_back}):
        yield said("card.gate.resolved", codes=Listed(tuple(codes), ","))
    if any(finding.code == "R304" and finding.status is not Status.PASS for finding in findings):
        yield said("card.gate.way_in")
    yield said("card.gate.fuel")
    yield said("card.gate.supported")
    behind = Listed(tuple(region_said(one) for one in (*bay.keep_outs, *bay.flanges)), ";")
    yield said("card.gate.behind" if behind.items else "card.gate.behind_nothing", behind=behind)
    if has_template:
        yield said("card.gate.template_tried")
    yield said("card.gate.not_checked")


def mandate_said(mandate: Mandate) -> Said:
    """What asks for the work, such as directive M-101, bulletin B-7 revision C, kit K-7."""
    bulletin, revision = mandate.bulletin, mandate.revision
    of = "_of" if mandate.reference else ""
    parts = [said(f"card.mandate.{mandate.kind}{of}", reference=mandate.reference)]
    if bulletin or revision:
        of_bulletin = "card.mandate.named_revised" if revision else "card.mandate.named"
        id = of_bulletin if bulletin else "card.mandate.revision"
        parts.append(said(id, bulletin=bulletin, revision=revision))
    if mandate.kit:
        parts.append(said("card.mandate.kit", kit=mandate.kit))
    return said("card.mandate", parts=Listed(tuple(parts), ","))
