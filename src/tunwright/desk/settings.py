"""Django's settings, made from where the desk stands (see `place`)."""

from __future__ import annotations

from pathlib import Path

from tunwright.desk.database import database
from tunwright.desk.place import place, secret

HERE = Path(__file__).parent
PLACE = place()

DEBUG = False
SECRET_KEY = secret(PLACE)
ALLOWED_HOSTS = list(PLACE.hosts)
ROOT_URLCONF = "tunwright.desk.urls"
INSTALLED_APPS = ["django.contrib.auth", "django.contrib.contenttypes", "django.contrib.sessions", "tunwright.desk"]
MIDDLEWARE = [
    "tunwright.desk.headers.headers",
    "django.middleware.common.CommonMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "tunwright.desk.gate.gate",
    "django.middleware.csrf.CsrfViewMiddleware",
]
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {"context_processors": ["tunwright.desk.pages.common"]},
    }
]

DATABASES = {"default": database(PLACE)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"
LANGUAGE_CODE = "en"
USE_I18N = False

STATIC_URL = "/static/"
STATIC = HERE / "static"

LARGEST_REQUEST = 2_500_000  # a build file of the largest size, every second character escaped [bytes]
DATA_UPLOAD_MAX_MEMORY_SIZE = LARGEST_REQUEST
DATA_UPLOAD_MAX_NUMBER_FIELDS = 100
FILE_UPLOAD_HANDLERS = ["tunwright.desk.headers.NoFiles"]

LOGIN_URL = "/login"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = "/login"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
SESSION_COOKIE_AGE = 14 * 24 * 3600
SESSION_COOKIE_NAME = "tunwright_login"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = PLACE.lan
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "tunwright.desk.errors.forged"

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "%(asctime)s %(levelname)s %(name)s %(message)s"}},
    "handlers": {
        "file": {
            "class": "logging.handlers.RotatingFileHandler",
            "filename": str(PLACE.data / "desk.log"),
            "maxBytes": 2_000_000,
            "backupCount": 3,
            "encoding": "utf-8",
            "delay": True,
            "formatter": "line",
        }
    },
    "root": {"handlers": ["file"], "level": "WARNING"},
    "loggers": {
        "django": {"handlers": [], "level": "WARNING", "propagate": True},
        "django.request": {"level": "CRITICAL"},  # said by the desk's own log, with an id
        "django.security": {"level": "CRITICAL"},  # same
        "tunwright": {"level": "INFO"},
    },
}
