"""The questions that decide whether a job goes to an engineer before anything else is looked at."""

from hatchwright.job.entry import Entered, YesNo


class Gate(Entered):
    """Yes or no to each; a question left open counts as yes until it is answered."""

    spar_web_or_cap: YesNo | None = None
    pressure_skin: YesNo | None = None
    tank_wall: YesNo | None = None
    movable_surface: YesNo | None = None
    fitting_path: YesNo | None = None
    member_cut: YesNo | None = None
    over_12500_lb: YesNo | None = None
    maker_data: YesNo | None = None
    drain_covered: YesNo | None = None
    fuel_or_controls_behind: YesNo | None = None
