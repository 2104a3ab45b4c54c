"""Yes and no in a file: only true and false, without quotes, as the file's own grammar writes them."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo

from hatchwright.job.entry import refusal
from hatchwright.said import said

MEANT = {"yes": "true", "on": "true", "true": "true", "no": "false", "off": "false", "false": "false"}
"""What a person writes, to what belongs in the file."""


def _yes_no(value: Any, info: ValidationInfo) -> Any:
    if value is None or isinstance(value, bool):
        return value
    meant = MEANT.get(str(value).strip().lower())
    name = info.field_name or ""
    does = said("job.write_bare", name=name, value=meant) if meant else said("job.true_false.do", name=name)
    raise refusal(said("job.true_false"), does)


YesNo = Annotated[bool, BeforeValidator(_yes_no)]
