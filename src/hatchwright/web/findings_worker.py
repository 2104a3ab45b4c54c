"""The one worker process that judges a job for the page, so that who types on does not wait for it."""

from __future__ import annotations

from pathlib import Path

from hatchwright.page.screen import Look, ScreenView, screen
from hatchwright.tables.table import ShopTables
from hatchwright.web.worker import Worker

WORKER = Worker("findings", is_kept=True)


def judged_view(
    text: str, folder: Path, name: str, look: Look, *, shop: ShopTables | None
) -> ScreenView | None:
    """Judge and draw a job in the worker.

    Returns:
        ScreenView | None: with every finding and the verdict of both sides; None when a later question overtook this
            one before it was begun.
    Raises:
        WorkerError: the worker was ended from outside, or failed.
    """
    return WORKER.ask_newest(_view, text, folder, name, look, shop)


def _view(text: str, folder: Path, name: str, look: Look, shop: ShopTables | None) -> ScreenView:
    return screen(text, folder, name, look, shop=shop, with_other=True, with_remedies=True)
