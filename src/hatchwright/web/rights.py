"""What each role may do on a shop server, asked at one door before every page."""

from __future__ import annotations

from hatchwright.records.people import Role

_FOR_ALL = frozenset({"leave", "pass-phrase"})
"""What a viewer may send: he ends his session and changes his own pass phrase; no job changes by it."""
_FOR_INSPECTORS = frozenset({"people-name", "people-role", "people-key"})
_ASKING = frozenset({"GET", "HEAD", "OPTIONS"})


def least_role(page: str, method: str) -> Role:
    """The role that a request needs: to look, a viewer's; to send anything, a mechanic's, unless it is listed here.

    Args:
        page: its name in `urls`.
    """
    if method in _ASKING or page in _FOR_ALL:
        return Role.VIEWER
    return Role.INSPECTOR if page in _FOR_INSPECTORS else Role.MECHANIC
