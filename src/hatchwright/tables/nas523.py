"""The fastener symbol of drawings: a cross with a code in each quarter, restated, never authoritative."""

from __future__ import annotations

from hatchwright.tables.table import Record, Table


class _Code(Record, frozen=True):
    quarter: str
    code: str
    meaning: str


NAS523_CODES = Table(_Code, "nas523_codes", named_by=2, is_open=False, title="NAS523 codes", otherwise=True)
