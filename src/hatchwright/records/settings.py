"""Django's settings for a command that needs the store and no page; the page has its own."""

from __future__ import annotations

INSTALLED_APPS = ["hatchwright.records"]
DATABASES: dict[str, dict[str, object]] = {}
"""Each store is entered when it is opened; see `database`."""
USE_TZ = False
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
