"""The questions that decide whether a job goes to an engineer before anything else is looked at."""

from __future__ import annotations

from pydantic import Field

from hatchwright.job.entry import Entered
from hatchwright.job.yes_no import YesNo


class Gate(Entered):
    """Yes or no to each; a question left open counts as yes until it is answered."""

    spar_web_or_cap: YesNo | None = Field(
        default=None, description="Is the opening in the web or a cap of a spar?"
    )
    pressure_skin: YesNo | None = Field(default=None, description="Does the skin hold cabin pressure?")
    tank_wall: YesNo | None = Field(default=None, description="Is the skin the wall of a fuel tank?")
    movable_surface: YesNo | None = Field(
        default=None, description="Is it in a control surface, tab or flap?"
    )
    fitting_path: YesNo | None = Field(
        default=None, description="Is it in the load path of a strut or fitting?"
    )
    member_cut: YesNo | None = Field(default=None, description="Is a stringer, frame or rib flange cut?")
    over_12500_lb: YesNo | None = Field(default=None, description="Is the gross weight over 12,500 lb?")
    maker_data: YesNo | None = Field(
        default=None, description="Do the maker's own data cover this job, so that they come first?"
    )
    drain_covered: YesNo | None = Field(default=None, description="Does a new part cover a drain hole?")
    fuel_or_controls_behind: YesNo | None = Field(
        default=None, description="Do fuel, controls, wiring or instrument lines run behind?"
    )
