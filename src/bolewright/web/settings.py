"""Settings of the field sheet. Reading them makes nothing: `web.serve` makes the data folder and its key."""

from __future__ import annotations

import os
from pathlib import Path

from bolewright.store.database import database
from bolewright.store.folder import data_folder, secret_key

HERE = Path(__file__).resolve().parent
BOLEWRIGHT_DATA = data_folder()

SECRET_KEY = secret_key(BOLEWRIGHT_DATA)
DEBUG = False
BOLEWRIGHT_ALONE = os.environ.get("BOLEWRIGHT_ALONE") == "1"  # one person on this machine, nobody signs in
BOLEWRIGHT_MAY_BE_ALONE = False  # whether that may be chosen on the first page: web.serve says so
HTTPS = os.environ.get("BOLEWRIGHT_HTTPS") == "1"  # pages are reached over https
HERE_ONLY = ["localhost", "127.0.0.1", "[::1]"]
ALLOWED_HOSTS = [*HERE_ONLY, *os.environ.get("BOLEWRIGHT_HOSTS", "").split()]
INSTALLED_APPS = [
    "django.contrib.contenttypes",
    "django.contrib.auth",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "django_htmx",
    "bolewright.store",
    "bolewright.web",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",  # refuses names of this machine that others made up
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "bolewright.web.refusals.PlainRefusals",
    "bolewright.web.access.Access",
    "bolewright.web.entries.TakenOnce",  # last: only what everything before has let through is taken in
]
ROOT_URLCONF = "bolewright.web.urls"
WSGI_APPLICATION = "bolewright.web.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [HERE / "templates"],
        "OPTIONS": {
            "context_processors": ["bolewright.web.everywhere.everywhere"],
            "builtins": ["bolewright.web.templatetags.sheet"],
        },
    }
]
DATABASES = {"default": database(os.environ.get("DATABASE_URL", ""), BOLEWRIGHT_DATA)}
APPEND_SLASH = False
USE_TZ = True
TIME_ZONE = "UTC"
LANGUAGE_CODE = "en-us"
USE_I18N = False
STATIC_URL = "static/"
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = False
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_000_000  # forms; photographs are read from files
DATA_UPLOAD_MAX_NUMBER_FIELDS = 20_000
FILE_UPLOAD_MAX_MEMORY_SIZE = 4_000_000
AUTH_USER_MODEL = "store.Person"
PASSWORDS = "django.contrib.auth.password_validation"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"{PASSWORDS}.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": f"{PASSWORDS}.CommonPasswordValidator"},
    {"NAME": f"{PASSWORDS}.NumericPasswordValidator"},
    {"NAME": f"{PASSWORDS}.UserAttributeSimilarityValidator", "OPTIONS": {"user_attributes": ("login", "name")}},
]
SESSION_COOKIE_NAME = "bolewright-session"
SESSION_COOKIE_AGE = 30 * 24 * 3600
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
SECURE_HSTS_SECONDS = 30 * 24 * 3600 if HTTPS else 0
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "bolewright.web.refusals.stale_form"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
}
