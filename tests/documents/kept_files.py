"""A check of kept files by a validator that had no part in writing them (page-validation 0.11)."""

from __future__ import annotations

import re

import page

_STREAM = re.compile(rb"/Length (\d+)\b(?:(?!endobj).)*?>>\s*?stream\r?\n", re.DOTALL)
_CALLED_WRONG = "PDFA2B-STREAM-LENGTH-001"


def faults_of(data: bytes) -> list[str]:
    """What the validator finds against PDF/A-2b and PDF/UA-1.

    It calls the length of a stream wrong whose last byte is a carriage return, though the file is right: that one rule
    is let pass where each stated length is followed by an end of line and ``endstream``.
    """
    found = [
        (one.rule_id, one.message)
        for profile in ("2b", "ua1")
        for one in page.validate_pdf_bytes(data, profile=profile).failures
    ]
    return [f"{rule}: {said}" for rule, said in found if rule != _CALLED_WRONG or not lengths_are_right(data)]


def lengths_are_right(data: bytes) -> bool:
    """Whether each stream is as long as it says."""
    begun = list(_STREAM.finditer(data))
    ends = (data[one.end() + int(one[1]) :][:11] for one in begun)
    return len(begun) == data.count(b"endstream") and all(re.match(rb"\r?\nendstream", end) for end in ends)
