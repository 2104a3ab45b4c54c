"""The server as it ends: at the latest a moment after it is told to, whatever a request is still doing."""

from __future__ import annotations

import os
import socket
import threading

import uvicorn

GRACE_S = 2.0
"""How long requests may still take then [s]."""


class LeavingServer(uvicorn.Server):
    """Lets requests end, but not for ever: a thread cannot be ended, so the program is."""

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Stop listening, wait, and leave."""
        leave = threading.Timer(GRACE_S, os._exit, (0,))
        leave.daemon = True
        leave.start()
        await super().shutdown(sockets)
        leave.cancel()
