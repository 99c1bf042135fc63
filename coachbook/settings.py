"""The settings of the site. Every COACHBOOK_ name is explained in coachbook/docs/08-settings.md."""

from __future__ import annotations

import os
from pathlib import Path

from csp.constants import NONE, SELF

from coachbook import environment

# The products that numpy forms here are small: spread over threads they take the processor many
# times as long, the longer the busier it is. numpy reads this when it is first imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

ROOT = Path(__file__).resolve().parent.parent
DATA = environment.folder("COACHBOOK_DATA", ROOT / "data")
# Drawn papers (shared/pieces.py): beside the data, or in a folder that several machines share.
PIECES = environment.named_folder("COACHBOOK_PIECES")

DEBUG = environment.switch("COACHBOOK_DEBUG", default=False)
SECRET_KEY = environment.secret_key(DATA)
ALLOWED_HOSTS = environment.words("COACHBOOK_HOSTS", ("localhost", "127.0.0.1", "[::1]"))
CSRF_TRUSTED_ORIGINS = environment.words("COACHBOOK_ORIGINS")

INSTALLED_APPS = [
    "coachbook",
    "practice",
    "roster",
    "plays",
    "shared",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.humanize",
    "django.contrib.messages",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "axes",
    "django_htmx",
]

MIDDLEWARE = [
    "coachbook.log_lines.TimedRequests",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "shared.headers.PrivacyHeaders",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "shared.guests.GuestDoor",
    "coachbook.accounts.second_step.SecondStepDoor",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "coachbook.accounts.devices.SeenDevices",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "coachbook.urls"
WSGI_APPLICATION = "coachbook.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "templates"],
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "coachbook.home.navigation.navigation",
            ],
            "builtins": [
                "django.templatetags.i18n",
                "django.templatetags.static",
                "shared.templatetags.page",
            ],
            "loaders": [
                (
                    "django.template.loaders.cached.Loader",
                    ["django.template.loaders.filesystem.Loader"],
                )
            ],
        },
    }
]

DATABASES = {"default": environment.database(DATA)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "shared.User"
AUTHENTICATION_BACKENDS = [
    "coachbook.accounts.throttle.ManyNames",
    "axes.backends.AxesStandaloneBackend",
    "coachbook.accounts.codes.CodeBackend",
    "coachbook.accounts.passkeys.PasskeyBackend",
    "django.contrib.auth.backends.ModelBackend",
]
_CHECKS = "django.contrib.auth.password_validation"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"{_CHECKS}.MinimumLengthValidator", "OPTIONS": {"min_length": 12}},
    {
        "NAME": f"{_CHECKS}.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ("username", "name")},
    },
    {"NAME": f"{_CHECKS}.CommonPasswordValidator"},
    {"NAME": f"{_CHECKS}.NumericPasswordValidator"},
    {"NAME": "coachbook.accounts.passwords.DecoratedWordValidator"},
]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"

# A hall shares one address: lock the account at that address, never the whole hall.
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_FAILURE_LIMIT = 6
AXES_COOLOFF_TIME = 0.25  # hours
AXES_LOCKOUT_TEMPLATE = "coachbook/locked_out.html"
AXES_VERBOSE = False
AXES_RESET_ON_SUCCESS = True
# What was sent with a wrong try is kept for a while: nothing of it may be nearly a password.
AXES_SENSITIVE_PARAMETERS = ["username", "ip_address", "old", "sure_password", "code", "said"]

# The one proxy whose word counts: who the visitor is, and whether they came over https. The
# server (coachbook/gate.py) reads its headers and drops everybody else's.
PROXY = environment.ip_address("COACHBOOK_PROXY")
# Who serves over https says so; cookies then refuse to travel without it.
HTTPS = environment.switch("COACHBOOK_HTTPS", default=False)
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
# As in shared/cookies.py: no other server of the club's domain can set these.
_PREFIX = "__Host-" if HTTPS else ""
SESSION_COOKIE_NAME, CSRF_COOKIE_NAME = f"{_PREFIX}sessionid", f"{_PREFIX}csrftoken"
MESSAGE_STORAGE = "shared.cookies.MessageStorage"
SECURE_SSL_REDIRECT = HTTPS
SECURE_HSTS_SECONDS = 31_536_000 if HTTPS else 0
# A club that serves this under its own domain may have other servers there without https: what
# holds for them, and what browsers are told for good, is not this site's to say.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]
SESSION_COOKIE_AGE = 60 * 60 * 24 * 30
SESSION_COOKIE_HTTPONLY = True
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "base-uri": [NONE],
        "connect-src": [SELF],
        "font-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "img-src": [SELF, "data:"],
        "manifest-src": [SELF],
        "script-src": [SELF],
        "style-src": [SELF],
        "worker-src": [SELF],
    }
}

# Where phones in the hall find the site; `start` and `demo` fill it in (coachbook/serving.py).
HALL_ADDRESS = ""

LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English"), ("es", "Español")]
LOCALE_PATHS = [ROOT / "coachbook" / "locale"]
USE_TZ = True
TIME_ZONE = environment.time_zone("COACHBOOK_TIME_ZONE", "UTC")

# Where a mail server is named, a forgotten password can be helped by mail; else none is sent.
_MAIL = environment.mail_server(CSRF_TRUSTED_ORIGINS)
HAS_MAIL = bool(_MAIL.host)
EMAIL_HOST, EMAIL_PORT = _MAIL.host, _MAIL.port
EMAIL_HOST_USER, EMAIL_HOST_PASSWORD = _MAIL.user, _MAIL.password
EMAIL_USE_TLS, EMAIL_USE_SSL = _MAIL.starttls, _MAIL.tls
EMAIL_TIMEOUT = 20  # seconds; the background waits, never a page
DEFAULT_FROM_EMAIL = _MAIL.sender

STATIC_URL = "/static/"
STATICFILES_DIRS = [ROOT / "static"]
STATIC_ROOT = DATA / "static"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "coachbook.static.StaticFiles"},
}

MAX_UPLOAD = 1_000_000  # bytes; a library of a hundred plays is half of that
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_500_000
DATA_UPLOAD_MAX_NUMBER_FIELDS = 4_000  # the preview of a roster: 200 lines of 13 fields
FILE_UPLOAD_HANDLERS = [
    "django.core.files.uploadhandler.MemoryFileUploadHandler",
    "django.core.files.uploadhandler.TemporaryFileUploadHandler",
]

LOG = environment.one_of("COACHBOOK_LOG", ("line", "json"))
# Without this Django mails errors to administrators who do not exist, and logs nothing.
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "line": {
            "()": "coachbook.log_lines.WithoutLinks",
            "fmt": "{asctime} {levelname} {name} {message}",
            "style": "{",
        },
        "json": {"()": "coachbook.log_lines.AsJson"},
    },
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": LOG}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {
        "axes": {"level": "ERROR"},
        "coachbook.sign_ins": {"level": "INFO"},
        # As JSON every request has its line, so that the framework's own tells of failures alone.
        "coachbook.requests": {"level": "INFO" if LOG == "json" else "WARNING"},
        "django.request": {"level": "ERROR" if LOG == "json" else "WARNING"},
    },
}
