"""Who enters what a page has sent: which page, which step of it, and which person where people have names."""

from __future__ import annotations

import secrets

from django.http import HttpRequest

from hatchwright.web.who import author_of
from hatchwright.workflow.job_folder import Hand


def hand_of(request: HttpRequest) -> Hand:
    """Of a page that sends entry after entry, each with its number."""
    posted = request.POST
    serial = posted.get("serial", "")
    return Hand(
        page=posted.get("page", "")[:40] or secrets.token_hex(8),
        serial=int(serial) if serial.isascii() and serial.isdigit() and len(serial) < 10 else 0,
        step=posted.get("step", "")[:40],
        base=posted.get("over") or posted.get("base", ""),
        by=author_of(request),
    )


def hand_of_one(request: HttpRequest) -> Hand:
    """Of a form that is sent once."""
    base = request.POST.get("base", "")
    return Hand(page=secrets.token_hex(8), serial=0, step="", base=base, by=author_of(request))
