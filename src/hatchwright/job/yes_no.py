"""Yes and no in a file: only true and false, without quotes, as the file's own grammar writes them."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo

from hatchwright.job.entry import refusal

MEANT = {"yes": "true", "on": "true", "true": "true", "no": "false", "off": "false", "false": "false"}
"""What a person writes, to what belongs in the file."""


def _yes_no(value: Any, info: ValidationInfo) -> Any:
    if value is None or isinstance(value, bool):
        return value
    name = info.field_name
    meant = MEANT.get(str(value).strip().lower())
    does = f"{name} = {meant}" if meant else f"{name} = true or {name} = false"
    raise refusal("true or false is expected here", f"Write {does}, without quotes.")


YesNo = Annotated[bool, BeforeValidator(_yes_no)]
