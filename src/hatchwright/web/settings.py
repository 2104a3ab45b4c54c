"""Django's settings: one person on one machine, no other host, no database yet."""

from __future__ import annotations

from pathlib import Path

from django.core.management.utils import get_random_secret_key

HERE = Path(__file__).parent

DEBUG = False
SECRET_KEY = get_random_secret_key()
"""Made anew at each start; `server.serve` puts the machine's kept key here, so that open pages outlive a restart."""

ALLOWED_HOSTS = ["127.0.0.1", "localhost", "[::1]"]
ROOT_URLCONF = "hatchwright.web.urls"
INSTALLED_APPS: list[str] = []
DATABASES: dict[str, dict[str, object]] = {}
"""Signed records and the people who sign them will need one; jobs are files and never will."""

MIDDLEWARE = [
    "hatchwright.web.headers.StrictHeaders",
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

SESSION_ENGINE = "django.contrib.sessions.backends.signed_cookies"
SESSION_COOKIE_NAME = "hatchwright_session"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Strict"
CSRF_COOKIE_NAME = "hatchwright_csrf"
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Strict"
CSRF_FAILURE_VIEW = "hatchwright.web.troubles.not_from_this_page"

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
