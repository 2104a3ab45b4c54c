"""The questions that decide whether a job goes to an engineer before anything else is looked at."""

from __future__ import annotations

from pydantic import Field

from hatchwright.job.entry import Entered


class Gate(Entered):
    """Yes or no to each; a question left open counts as yes until it is answered."""

    spar_web_or_cap: bool | None = Field(
        default=None, description="Is the opening in the web or a cap of a spar?"
    )
    pressure_skin: bool | None = Field(default=None, description="Does the skin hold cabin pressure?")
    tank_wall: bool | None = Field(default=None, description="Is the skin the wall of a fuel tank?")
    movable_surface: bool | None = Field(default=None, description="Is it in a control surface, tab or flap?")
    fitting_path: bool | None = Field(
        default=None, description="Is it in the load path of a strut or fitting?"
    )
    member_cut: bool | None = Field(default=None, description="Is a stringer, frame or rib flange cut?")
    over_12500_lb: bool | None = Field(default=None, description="Is the gross weight over 12,500 lb?")
    maker_data: bool | None = Field(
        default=None, description="Do the maker's own data cover this job, so that they come first?"
    )
    drain_covered: bool | None = Field(default=None, description="Does a new part cover a drain hole?")
    fuel_or_controls_behind: bool | None = Field(
        default=None, description="Do fuel, controls, wiring or instrument lines run behind?"
    )
