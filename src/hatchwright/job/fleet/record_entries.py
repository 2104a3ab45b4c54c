"""What records ask for and nothing computes, as a mechanic enters it once for a fleet or for one aircraft of it."""

from typing import Annotated

from pydantic import StringConstraints

from hatchwright.job.entry import Entered, YesNo

Words = Annotated[str, StringConstraints(strip_whitespace=True, max_length=300)]


class RecordEntries(Entered):
    """Words for the records, printed as they are entered; what is left out is named as missing."""

    make_model: Words = ""
    owner: Words = ""
    address: Words = ""
    data: Words = ""
    data_approval: Words = ""
    compatibility: Words = ""
    ica: Words = ""
    flight_manual: Words = ""
    flight_check: Words = ""
    limitations: Words = ""
    form: Words = ""
    entry_reference: Words = ""
    work_order: Words = ""
    major: YesNo | None = None
    field_approval: YesNo | None = None

    @property
    def facts(self) -> dict[str, str | bool]:
        """What is entered, by the names of facts."""
        told: dict[str, str | bool | None] = {
            **self.model_dump(exclude={"major", "field_approval"}),
            "is_major": self.major,
            "is_field_approval": self.field_approval,
        }
        return {name: value for name, value in told.items() if value not in (None, "")}
