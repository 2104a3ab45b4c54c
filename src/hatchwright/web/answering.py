"""A server that answers, in the clear on this computer or with TLS beyond it."""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING

import uvicorn

from hatchwright.web.leaving import LeavingServer
from hatchwright.web.lettering import load_templates

if TYPE_CHECKING:
    import ssl

    from hatchwright.web.place import App

_OBJECTS_BEFORE_SEARCH = 20_000


def server_of(app: App, secure: ssl.SSLContext | None = None) -> LeavingServer:
    """A server, ready to be run; everything that a page needs is loaded, once Django has its settings.

    Args:
        secure: how it speaks TLS, None in the clear.
    """
    load_templates()  # instead of with the first page
    config = uvicorn.Config(
        app,
        log_config=None,  # its own writes to an output that may be closed
        log_level="error",
        access_log=False,
        server_header=False,
        proxy_headers=False,  # or whoever asks could say from which address, and get past what is counted by it
        lifespan="off",
        ws="none",
        ssl_context_factory=(lambda _config, _usual: secure) if secure else None,
    )
    gc.freeze()  # what was loaded stays: no drawing waits while it is searched for garbage
    gc.set_threshold(_OBJECTS_BEFORE_SEARCH)
    return LeavingServer(config)
