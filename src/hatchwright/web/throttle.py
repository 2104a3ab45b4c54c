"""How often a name and a pass phrase may be tried: guessing is slow, and nobody can lock out who came in before.

A name that came in from an address is counted apart from then on, under that name and address together. Any other try
counts for its address and for its name. Nobody ever waits longer than a minute for a right pass phrase.
"""

from __future__ import annotations

import ipaddress
from collections import OrderedDict
from collections.abc import Callable
from threading import Lock

from msgspec import Struct

FREE_TRIES = 5
"""Before anybody waits. Source: common practice, no source."""
MOST_WAIT_S = 60.0
"""At most 1,440 tries a day. Source: own choice, no source."""
_MOST_DOUBLINGS = 10
_FORGOTTEN_AFTER_S = 3600.0
_MOST_COUNTED = 10_000
_NEIGHBORS = 64
"""Bits of an IPv6 address that one network shares: whoever has one address has them all. Source: [RFC4291], 2.5.4."""


class _Count(Struct):
    tries: int
    free_at_s: float
    last_s: float


Key = tuple[str, str]


class Throttle:
    """Counts tries; one that is let through counts as wrong until it is told to be right.

    Args:
        clock: seconds that only rise, whatever the clock of the machine is set to [s].
    """

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock, self._lock = clock, Lock()
        self._counts: OrderedDict[Key, _Count] = OrderedDict()
        self._came_in: OrderedDict[Key, None] = OrderedDict()

    def wait_s(self, name: str, address: str) -> float:
        """Begin a try: 0 where it may go on, else how long to wait before the next [s]."""
        now, network = self._clock(), network_of(address)
        with self._lock:
            keys = self._keys(name, network)
            wait = max((one.free_at_s - now for one in map(self._counts.get, keys) if one), default=0.0)
            if wait > 0:
                return wait
            for key in keys:
                self._count(key, now)
            return 0.0

    def was_right(self, name: str, address: str) -> None:
        """The try that was begun was right: what it counted for begins anew."""
        network = network_of(address)
        with self._lock:
            for key in self._keys(name, network):
                self._counts.pop(key, None)
            self._came_in[(name, network)] = None
            while len(self._came_in) > _MOST_COUNTED:
                self._came_in.popitem(last=False)

    def _keys(self, name: str, network: str) -> tuple[Key, ...]:
        own = (name, network)
        return (own,) if own in self._came_in else (("", network), (name, ""))

    def _count(self, key: Key, now: float) -> None:
        before = self._counts.pop(key, None)
        tries = 1 + (before.tries if before and now - before.last_s < _FORGOTTEN_AFTER_S else 0)
        doublings = min(tries - FREE_TRIES, _MOST_DOUBLINGS)
        wait = min(2.0**doublings, MOST_WAIT_S) if doublings >= 0 else 0.0
        self._counts[key] = _Count(tries, now + wait, now)
        while len(self._counts) > _MOST_COUNTED:
            self._counts.popitem(last=False)


def network_of(address: str) -> str:
    """The network that an address stands for.

    >>> network_of("192.0.2.7"), network_of("2001:db8::7")
    ('192.0.2.7', '2001:db8::')
    """
    try:
        there = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address
    if there.version == 4 or (mapped := there.ipv4_mapped):
        return str(there if there.version == 4 else mapped)
    return str(ipaddress.ip_network((int(there), _NEIGHBORS), strict=False).network_address)
