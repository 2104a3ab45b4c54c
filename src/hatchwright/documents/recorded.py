"""What the records and the fleet file tell of one job, handed to its papers as a value."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from hatchwright.airworthiness.holds import Counted, Initials, holds_of
from hatchwright.airworthiness.record_facts import RecordFacts, with_entered
from hatchwright.documents.record_facts import NOBODY, NOT_DUE, Next, Signing, facts_of
from hatchwright.documents.record_papers import Shown
from hatchwright.job.fleet.fleet import FleetAircraft
from hatchwright.job.fleet.mandates import FleetMandate
from hatchwright.job.fleet.times import Done
from hatchwright.layout.layout import Layout
from hatchwright.said import Value


class Recorded(Struct, frozen=True):
    """All of it; what is left out is not known.

    Args:
        head: of the chain as it stands now, as it is printed; "" where there are no records.
        balance: what became of empty weight and arm, in a sentence.
        entered: what a person entered for the records, by the names of facts.
        plan: mark of what is to be made, for which alone initials count; "" for the revision of the job.
        initials: hold points that were passed, of all sides.
        counted: what was counted in and out, of all sides.
    """

    head: str = ""
    aircraft: FleetAircraft | None = None
    mandate: FleetMandate | None = None
    done: Done | None = None
    next_due: Next = NOT_DUE
    balance: Value = ""
    signing: Signing = NOBODY
    entered: Mapping[str, str | bool] = field(default_factory=dict)
    plan: str = ""
    initials: tuple[Initials, ...] = ()
    counted: tuple[Counted, ...] = ()

    def facts_of(self, layout: Layout) -> RecordFacts:
        """What is known of one side for its records."""
        known = facts_of(
            layout,
            aircraft=self.aircraft,
            mandate=self.mandate,
            done=self.done,
            next_due=self.next_due,
            balance=self.balance,
            signing=self.signing,
        )
        return with_entered(known, self.entered)

    def shown_of(self, layout: Layout) -> Shown:
        """What was passed and counted of one side."""
        side = layout.job.aircraft.side.casefold()
        return Shown(
            self.plan or layout.job.revision,
            holds_of(layout),
            tuple(one for one in self.initials if one.side.casefold() == side),
            tuple(one for one in self.counted if one.side.casefold() == side),
        )


NOTHING_RECORDED = Recorded()
"""Of a job in a folder without records, and in no fleet file."""
