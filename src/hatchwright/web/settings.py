"""Django's settings: one person on one machine, no other host; `server.application` puts the names of this machine,
and names, path and security of the cookies here."""

from __future__ import annotations

from pathlib import Path

from django.core.management.utils import get_random_secret_key

HERE = Path(__file__).parent

DEBUG = False
SECRET_KEY = get_random_secret_key()
"""Made anew at each start."""

ALLOWED_HOSTS = ["127.0.0.1", "localhost", "[::1]"]
ROOT_URLCONF = "hatchwright.web.urls"
INSTALLED_APPS = ["hatchwright.records"]
DATABASES: dict[str, dict[str, object]] = {}
"""The store of a folder is entered when it is opened, see `records.database`; sessions stay in memory."""

MIDDLEWARE = [
    "hatchwright.web.headers.StrictHeaders",
    "hatchwright.web.compressed.CompressedPages",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "hatchwright.web.door.Door",
    "django.middleware.csrf.CsrfViewMiddleware",
]
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.jinja2.Jinja2",
        "DIRS": [HERE / "templates"],
        "OPTIONS": {"environment": "hatchwright.web.lettering.environment"},
    }
]

_MEMORY = "django.core.cache.backends.locmem.LocMemCache"
CACHES = {"default": {"BACKEND": _MEMORY, "OPTIONS": {"MAX_ENTRIES": 10_000}}}
"""So many sessions: the oldest are not dropped because a few hundred were begun."""
SESSION_ENGINE = "django.contrib.sessions.backends.cache"
"""In the memory of the program, and gone with it: the cookie holds nothing but a name that nobody guesses."""
SESSION_EXPIRE_AT_BROWSER_CLOSE = True
SESSION_COOKIE_AGE = 10 * 365 * 24 * 3600
"""As long as the program runs, though the clock of this machine be set."""
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Strict"
CSRF_COOKIE_AGE = (
    None  # until the browser closes; not with the program, or no open page could go on after a restart
)
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Strict"
CSRF_FAILURE_VIEW = "hatchwright.web.troubles.not_from_this_page"

DATA_UPLOAD_MAX_MEMORY_SIZE = None  # the body is limited by `handler.BodyLimit`
DATA_UPLOAD_MAX_NUMBER_FIELDS = 40_000
"""A job may hold 5000 measured holes of four boxes each; the body is limited by `handler.BodyLimit`."""

DEFAULT_CHARSET = "utf-8"
USE_I18N = False
USE_TZ = False
TIME_ZONE = None  # the clock of this machine, for the time of saving and the date on papers
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"()": "hatchwright.web.troubles.OneLine"}},
    "handlers": {"terminal": {"class": "logging.StreamHandler", "formatter": "line", "level": "ERROR"}},
    "loggers": {"django": {"handlers": ["terminal"], "propagate": False}},
}
