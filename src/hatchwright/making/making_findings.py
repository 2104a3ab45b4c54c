"""Everything that is judged of the making of a job: template, cutter, cut, pins, starter, curved skin, key."""

from __future__ import annotations

from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.cut_findings import cut_findings
from hatchwright.making.cutter.cutter_fit import cutter_findings
from hatchwright.making.cutter.starter_findings import starter_findings
from hatchwright.making.making import Making, cutting_of
from hatchwright.making.pins.findings import pin_findings, pins_not_planned
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.making.template.curved_findings import curved_findings
from hatchwright.making.template.findings import pilot_findings, template_findings
from hatchwright.making.template.key_findings import key_findings
from hatchwright.words.of_job import finding_of


def making_findings(layout: Layout, making: Making | None) -> tuple[Finding, ...]:
    """Judge the making of a job, None where it has no template or none can be made: T1xx to T8xx in the order
    of their code, without T2xx, which only a trial gives; T9xx, which asks the rules too, stands in `search.risk`."""
    found = [*template_findings(layout, making), *(pilot_findings(making) if making else ())]
    found += cutter_findings(layout)
    if making:
        # Without pins it is told what a plan lacks; nothing where the cut is not one run, which T103 says.
        pins = planned_pins(making)
        found += cut_findings(making)
        found += pin_findings(making, pins) if pins else pins_not_planned(making)
    if cutting := making or cutting_of(layout):
        found += starter_findings(cutting)
    found += curved_findings(layout)
    if making:
        found += key_findings(making)
    return tuple(finding_of(layout.job.kind, finding) for finding in found)
