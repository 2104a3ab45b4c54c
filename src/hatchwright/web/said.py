"""What is said beside the boxes of a page: of every box once, and then of those for which it has changed."""

from __future__ import annotations

from hatchwright.page.entry_sheet import EntrySheet
from hatchwright.web.lettering import anchor, fault_words
from hatchwright.web.site import Latest, Said


def said_anew(sheet: EntrySheet, version: str, since: str, kept: Latest[Said]) -> Said:
    """What a page has to put beside its boxes, which shows what was said of an earlier version.

    Args:
        since: the version that the page shows, "" for none.
        kept: what was said of earlier versions; takes this one in.
    Returns:
        dict: what differs, by kind and by the box's name on the page; everything when that version is not known.
    """
    now = _said_of(sheet)
    before = kept.get(since)
    kept.put(version, now)
    if before is None:
        return now
    return {
        kind: {name: said for name, said in those.items() if before[kind].get(name) != said}
        for kind, those in now.items()
    }


def _said_of(sheet: EntrySheet) -> Said:
    """``boxes``: echo or faults and whether they are faults; ``gists``, ``parts``: sections in short, their faults."""
    return {
        "boxes": {
            anchor(path): (" ".join(map(fault_words, box.faults)) or box.echo, bool(box.faults))
            for path, box in sheet.boxes().items()
        },
        "gists": {anchor(path): part.gist for path, part in sheet.sections().items()},
        "parts": {
            anchor(path): [fault_words(fault) for fault in part.faults]
            for path, part in sheet.sections().items()
        },
    }
