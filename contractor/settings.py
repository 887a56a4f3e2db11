"""Settings, read from the environment; the defaults are the private servers of `make run`."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from urllib.parse import urlsplit

import environ
from celery.schedules import crontab
from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured
from django.utils.translation import gettext_lazy as _

from contractor.local import addresses

BASE_DIR = Path(__file__).resolve().parent.parent
env = environ.Env()

# Where and how it runs ------------------------------------------------------------------------
PRODUCTION = env.bool("PRODUCTION", default=False)
DEBUG = env.bool("DEBUG", default=False)
SECRET_KEY = env.str("SECRET_KEY", default="") or ("" if PRODUCTION else addresses.secret_key())
SECRET_KEY_FALLBACKS = env.list("SECRET_KEY_FALLBACKS", default=[])
SITE_URL = env.str("SITE_URL", default=addresses.site_url()).rstrip("/")
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=[] if PRODUCTION else ["*"])
TRUSTED_PROXIES = env.int("TRUSTED_PROXIES", default=0)
if PRODUCTION and (DEBUG or len(SECRET_KEY) < 50 or not ALLOWED_HOSTS or "*" in ALLOWED_HOSTS):
    raise ImproperlyConfigured(
        "In production set SECRET_KEY (50 characters or more) and ALLOWED_HOSTS (no *), "
        "and leave DEBUG off."
    )

INSTALLED_APPS = [
    "contractor",
    "panels",
    "jobs",
    "followups",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.contrib.postgres",
    "django.contrib.humanize",
    "django.forms",
    "rest_framework",
    "drf_spectacular",
    "django_htmx",
    "knox",
    "axes",
    "django_otp",
    "django_otp.plugins.otp_totp",
    "django_otp.plugins.otp_static",
    "csp",
    "pgtrigger",
    "pghistory",
]

MIDDLEWARE = [
    "contractor.health.Healthz",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "contractor.middleware.ClientAddress",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django_otp.middleware.OTPMiddleware",
    "contractor.middleware.SignedInByDefault",
    "django.contrib.messages.middleware.MessageMiddleware",
    "contractor.middleware.FirmTimeAndFormats",
    "django_htmx.middleware.HtmxMiddleware",
    "contractor.history.WhoAndWhere",
    "contractor.middleware.RefusalsInWords",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "contractor.urls"
WSGI_APPLICATION = "contractor.wsgi.application"
FORM_RENDERER = "contractor.forms_rendering.PaperForms"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.debug",
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "contractor.context.page",
            ],
        },
    }
]

# Rows and queues ------------------------------------------------------------------------------
DATABASES = {"default": env.db_url("DATABASE_URL", default=addresses.database_url())}
DATABASES["default"]["ATOMIC_REQUESTS"] = False
DATABASES["default"]["CONN_MAX_AGE"] = env.int("CONN_MAX_AGE", default=60)
DATABASES["default"]["CONN_HEALTH_CHECKS"] = True
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
REDIS_URL = env.str("REDIS_URL", default=addresses.redis_url())
CACHES = {
    "default": {"BACKEND": "django.core.cache.backends.redis.RedisCache", "LOCATION": REDIS_URL}
}
PGHISTORY_APPEND_ONLY = True
# Triggers follow the models and are put in place after every migrate; as steps of migrations they
# would double the time of a first start.
PGTRIGGER_MIGRATIONS = False
PGTRIGGER_INSTALL_ON_MIGRATE = True

# Work in the background: rows are the queue, Celery is the clock and the muscle -----------------
CELERY_BROKER_URL = addresses.broker_url(REDIS_URL)
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_TASK_TIME_LIMIT = 300
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_WORKER_HIJACK_ROOT_LOGGER = False
CELERY_TIMEZONE = "UTC"
CELERY_BEAT_SCHEDULE = {
    "sweep": {"task": "followups.tasks.sweep", "schedule": 30.0, "options": {"expires": 25}},
    "letters": {
        "task": "contractor.tasks.send_letters",
        "schedule": 10.0,
        "options": {"expires": 9},
    },
    "recalculations": {
        "task": "panels.tasks.recalculate_waiting",
        "schedule": 10.0,
        "options": {"expires": 9},
    },
    "tidy": {"task": "contractor.tasks.tidy", "schedule": crontab(hour=8, minute=17)},
}

# What the rooms above show on a lower room’s page (contractor/sections.py), and what they write in
# the transaction of its cause (jobs/hooks.py)
SITE_SECTIONS = [
    "jobs.sections.for_site",
    "panels.sections.for_site",
    "followups.sections.for_site",
]
JOB_SECTIONS = ["followups.sections.for_job"]
PERMIT_DAYS = ["jobs.queries.permit_days.at"]
DAY_NOTES = ["followups.sections.for_day"]
AFTER_CLOSE_OUT = ["followups.services.causes.after_close_out"]
AFTER_REOPEN = ["followups.services.causes.after_reopen"]
AFTER_ASSIGN = ["followups.services.causes.after_assign"]
AFTER_UNASSIGN = ["followups.services.causes.after_unassign"]
AFTER_CANCEL = ["followups.services.causes.after_cancel"]

# Mail -----------------------------------------------------------------------------------------
vars().update(env.email_url("EMAIL_URL", default=addresses.email_url()))
EMAIL_TIMEOUT = 20
MAIL_HOST = urlsplit(SITE_URL).hostname if PRODUCTION else "tallowcreek.example"
DEFAULT_FROM_EMAIL = env.str("FROM_EMAIL", default=f"office@{MAIL_HOST}")

# Who may come in ------------------------------------------------------------------------------
AUTH_USER_MODEL = "contractor.Person"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
AXES_USERNAME_FORM_FIELD = "username"
AXES_LOCKOUT_CALLABLE = "contractor.sign_in.locked_out"
AXES_CLIENT_IP_CALLABLE = "contractor.sign_in.address"
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_VERBOSE = False
AXES_ENABLE_ADMIN = False
OTP_TOTP_ISSUER = "Panel records"
SETUP_CODE = env.str("SETUP_CODE", default="")  # lets the first owner in, in production
PASSWORD_RESET_TIMEOUT = 3 * 24 * 3600
SESSION_COOKIE_AGE = 14 * 24 * 3600
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "contractor.views.errors.forgery"

KNOX_TOKEN_MODEL = "contractor.Device"  # noqa: S105 - the name of a model
MIGRATION_MODULES = {
    "knox": None
}  # its own table is not used, and would stand in the way of a flush
REST_KNOX = {
    "TOKEN_MODEL": "contractor.Device",
    "TOKEN_TTL": timedelta(days=180),
    "AUTH_HEADER_PREFIX": "Token",
}
REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": ["contractor.api.devices.DeviceToken"],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": [
        "rest_framework.parsers.JSONParser",
        "rest_framework.parsers.MultiPartParser",
    ],
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "EXCEPTION_HANDLER": "contractor.api.errors.answer",
    "DEFAULT_THROTTLE_RATES": {"token": "10/min"},
    "NUM_PROXIES": TRUSTED_PROXIES,
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Panel records and jobs",
    "DESCRIPTION": "Customers, sites, jobs, visits, panels, circuits and close-out of one firm.",
    "VERSION": "1.0.0",
    "SERVE_INCLUDE_SCHEMA": False,
    "SCHEMA_PATH_PREFIX": "/api/v1",
    "COMPONENT_SPLIT_REQUEST": True,
    "POSTPROCESSING_HOOKS": ["contractor.api.schema.describe_problems"],
}

# What a browser may do --------------------------------------------------------------------------
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "frame-ancestors": [NONE],
        "form-action": [SELF],
        "base-uri": [NONE],
    }
}
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
if PRODUCTION:
    SECURE_SSL_REDIRECT = True
    SECURE_REDIRECT_EXEMPT = [r"^api/"]  # an API client must not be led from http to https
    SECURE_HSTS_SECONDS = 365 * 24 * 3600
    SECURE_HSTS_INCLUDE_SUBDOMAINS = True
    SECURE_HSTS_PRELOAD = True
    SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = True
    SESSION_COOKIE_NAME, CSRF_COOKIE_NAME = "__Host-session", "__Host-csrf"
    if TRUSTED_PROXIES:
        SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

# Files, words, time -----------------------------------------------------------------------------
STATIC_URL = "static/"
STATIC_ROOT = env.path("STATIC_ROOT", default=str(addresses.folder() / "static"))
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
        if PRODUCTION
        else "django.contrib.staticfiles.storage.StaticFilesStorage"
    },
}
WHITENOISE_USE_FINDERS = not PRODUCTION
MEDIA_ROOT = env.path("MEDIA_ROOT", default=str(addresses.folder() / "photos"))
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
FILE_UPLOAD_MAX_MEMORY_SIZE = 1024 * 1024
PHOTO_MAX_BYTES = env.int("PHOTO_MAX_BYTES", default=15 * 1024 * 1024)
PHOTO_MAX_PIXELS = env.int("PHOTO_MAX_PIXELS", default=60_000_000)
METER_MAX_BYTES = env.int("METER_MAX_BYTES", default=40 * 1024 * 1024)
LIST_MAX_BYTES = env.int("LIST_MAX_BYTES", default=5 * 1024 * 1024)
LANGUAGE_CODE = "en-us"
LANGUAGES = [("en-us", _("English")), ("es-mx", _("Spanish"))]
LOCALE_PATHS = [BASE_DIR / "contractor" / "locale"]
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["console"], "level": env.str("LOG_LEVEL", default="INFO")},
}
