"""Django's settings, from the site's folder and a few variables that ``bedwright serve`` sets.

``BEDWRIGHT_HOME`` is the folder. ``BEDWRIGHT_DATABASE`` names a PostgreSQL database in the place
of the embedded one, ``BEDWRIGHT_HOSTS`` the addresses by which the site may be called,
``BEDWRIGHT_LAN`` says that it answers to other machines, ``BEDWRIGHT_HTTPS`` that a server in front
of it on this machine speaks https.
"""

from __future__ import annotations

import os
from pathlib import Path

from bedwright.web.databases import embedded, named
from bedwright.web.home import home

HOME = home()
BASE = Path(__file__).parent

SECRET_KEY = HOME.secret()
DEBUG = False
LAN = os.environ.get("BEDWRIGHT_LAN") == "1"
HTTPS = os.environ.get("BEDWRIGHT_HTTPS") == "1"
ALLOWED_HOSTS = [
    "localhost",
    "127.0.0.1",
    "[::1]",
    *(each for each in os.environ.get("BEDWRIGHT_HOSTS", "").split(",") if each),
]

INSTALLED_APPS = [
    "bedwright.web.apps.SiteConfig",
    "django.contrib.contenttypes",
    "django.contrib.auth",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
]
MIDDLEWARE = [
    "bedwright.web.middleware.headers",
    "bedwright.web.middleware.rightly_asked",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "bedwright.web.middleware.speak",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "bedwright.web.middleware.who_is_it",
    "bedwright.web.middleware.plain_faults",
]
ROOT_URLCONF = "bedwright.web.urls"
WSGI_APPLICATION = "bedwright.web.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.messages.context_processors.messages",
                "bedwright.web.views.common.of_every_page",
            ],
            "builtins": [
                "bedwright.web.templatetags.doors",
                "bedwright.web.templatetags.sheet",
            ],
        },
    }
]
DATABASES = {"default": named(os.environ["BEDWRIGHT_DATABASE"])
             if os.environ.get("BEDWRIGHT_DATABASE") else embedded(HOME.database)}  # fmt: skip
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_AGE = 14 * 24 * 3600  # s from signing in; then one signs in again
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS  # plain http knows no secure cookie
SESSION_COOKIE_NAME = "bedwright_session"
CSRF_COOKIE_NAME = "bedwright_csrf"
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "bedwright.web.views.faults.not_from_this_page"
X_FRAME_OPTIONS = "DENY"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
LOGIN_URL = "sign-in"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
     "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]  # fmt: skip
DATA_UPLOAD_MAX_MEMORY_SIZE = 6_000_000  # a garden document is at most 5 MB
FILE_UPLOAD_MAX_MEMORY_SIZE = 2_000_000
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2_000

LANGUAGE_CODE = "en-us"
LANGUAGES = [("en-us", "English"), ("es", "Español")]  # each by its own name
LANGUAGE_COOKIE_NAME = "bedwright_language"
LANGUAGE_COOKIE_AGE = 365 * 24 * 3600  # s
LANGUAGE_COOKIE_HTTPONLY = True
LANGUAGE_COOKIE_SAMESITE = "Lax"
LANGUAGE_COOKIE_SECURE = HTTPS
LOCALE_PATHS = [BASE.parent / "locale"]
FORMAT_MODULE_PATH = ["bedwright.web.formats"]
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"

WHITENOISE_ALLOW_ALL_ORIGINS = False  # no page elsewhere needs our scripts
STATIC_URL = "static/"
STATIC_ROOT = HOME.cache / "static"
STATICFILES_DIRS = [HOME.cache / "made"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}
MEDIA_ROOT = HOME.photographs
LOGGING_CONFIG = "bedwright.web.log.set_up"
LOGGING = {"folder": str(HOME.folder)}
