"""Django's settings for a shop on its own machine."""

import os
from pathlib import Path

from gudgeon.config import databases, paths

DATA_FOLDER = paths.data_folder()
SECRET_KEY = paths.secret_key(DATA_FOLDER)
DEBUG = False
# Loopback only; while phones are let in, the address they come in by is added to this list.
ALLOWED_HOSTS = ["127.0.0.1", "localhost", "[::1]"]

DATABASES = {"default": databases.chosen(os.environ.get("DATABASE_URL"), DATA_FOLDER)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

INSTALLED_APPS = [
    "django.contrib.staticfiles",
    "django_htmx",
    "gudgeon.records",
    "gudgeon.web",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "gudgeon.web.middleware.ContentPolicyMiddleware",
    "gudgeon.web.door.DoorMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "gudgeon.web.middleware.SentenceMiddleware",
]
ROOT_URLCONF = "gudgeon.config.urls"
WSGI_APPLICATION = "gudgeon.config.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "gudgeon.web.context.shop",
            ],
        },
    }
]

USE_TZ = True
TIME_ZONE = "UTC"
USE_I18N = False
LANGUAGE_CODE = "en-gb"

STATIC_URL = "/static/"
STATIC_ROOT = Path(os.environ.get("GUDGEON_STATIC", DATA_FOLDER / "static"))
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.InMemoryStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}

CSRF_COOKIE_HTTPONLY = False
CSRF_COOKIE_SAMESITE = "Strict"
CSRF_FAILURE_VIEW = "gudgeon.web.failures.not_from_our_page"
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
SECURE_CONTENT_TYPE_NOSNIFF = True
X_FRAME_OPTIONS = "DENY"
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {
        "file": {
            "class": "logging.handlers.RotatingFileHandler",
            "filename": str(DATA_FOLDER / "gudgeon.log"),
            "maxBytes": 1_000_000,
            "backupCount": 3,
            "delay": True,
            "formatter": "plain",
        },
    },
    "root": {"handlers": ["file"], "level": "WARNING"},
    "loggers": {
        "gudgeon": {"level": "INFO"},  # who was let in, shut out or turned away, without names
        "django.request": {"level": "ERROR"},  # a stranger knocking all day must not fill the log
    },
}
