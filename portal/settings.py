"""The one settings file. What an operator may set is read here; see operations/docs/running.md."""

import os
from datetime import timedelta
from pathlib import Path
from urllib.parse import quote

import environ
from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured
from kombu import Queue

from portal.bucket_address import bucket_at
from portal.environment import choice, flag, number, past_day, secret, text
from portal.jobs.schedule import SCHEDULE
from portal.supervisor.sockets import socket_path
from portal.translation.languages import offered

BASE_DIR = Path(__file__).resolve().parent.parent
os.umask(0o077)  # What the portal writes is for its own user, whatever folder it was given.

# --- What the operator sets -----------------------------------------------------------------
DATA_DIR = Path(text("DATA_DIR") or BASE_DIR / "var").resolve()
DEMO = flag("DEMO")
DEMO_TODAY = past_day("DEMO_TODAY") if DEMO else None  # The demo as it would be on that day.
DEMO_AGAIN = DEMO and flag("DEMO_AGAIN")
DEBUG = flag("DEBUG")
SITE_URL = text("SITE_URL", "http://localhost:8000").rstrip("/")
if not SITE_URL.startswith(("http://", "https://")):
    raise ImproperlyConfigured(f"SITE_URL must start with https:// or http://, not {SITE_URL!r}.")
SITE_HOST = SITE_URL.split("://")[1].split("/")[0].rsplit(":", 1)[0]
ALLOWED_HOSTS = [SITE_HOST, *text("EXTRA_HOSTS").split(), "localhost", "127.0.0.1", "[::1]"]
SECRET_KEY = secret("SECRET_KEY", DATA_DIR)
TLS = SITE_URL.startswith("https://")
DATABASE_URL = text("DATABASE_URL", f"sqlite:///{quote(str(DATA_DIR))}/kitchen-counter.sqlite3")
STORAGE_URL = text("STORAGE_URL")
EMAIL_URL = text("EMAIL_URL", "consolemail://")
MAIL_FROM = text("MAIL_FROM", "Kitchen Counter <portal@localhost>")
WEB_WORKERS = number("WEB_WORKERS", 2, low=1, high=64)
JOB_WORKERS = number("JOB_WORKERS", 2, low=1, high=64)

# --- Applications ---------------------------------------------------------------------------
INSTALLED_APPS = [
    "portal",
    "portal.people",
    "portal.data_protection",
    "portal.operations",
    "tasks",
    "evidence",
    "assessment",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.messages",
    "django.contrib.sessions",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "crispy_forms",
    "crispy_bootstrap5",
    "csp",
    "axes",
    "django_otp",
    "django_otp.plugins.otp_totp",
]

MIDDLEWARE = [
    "portal.operations.logs.RequestInLogs",
    "django.middleware.security.SecurityMiddleware",
    "portal.headers.PrivateByDefault",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "portal.headers.CompressPages",
    "csp.middleware.CSPMiddleware",
    "portal.people.accounts.sessions.Sessions",
    "django.middleware.common.CommonMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "portal.people.languages.ChosenLanguage",
    "django.contrib.messages.middleware.MessageMiddleware",
    "portal.people.audit.log.Refusals",
    "portal.people.accounts.sessions.SessionLimits",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "portal.people.accounts.strangers.LittleFromStrangers",
    "django.middleware.csrf.CsrfViewMiddleware",  # reads forms, so it comes after the two above
    "portal.people.timezone_middleware.SchoolTime",
    "portal.people.accounts.second_step.SecondStep",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "axes.middleware.AxesMiddleware",
    "portal.people.accounts.password_hashing.SayWhenBusy",
    "portal.people.out_of_range.NothingThere",
]

ROOT_URLCONF = "portal.urls"
WSGI_APPLICATION = "portal.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        # Each room keeps its pages beside its views.
        "DIRS": [
            folder
            for app in ("portal", "tasks", "evidence", "assessment")
            for folder in sorted((BASE_DIR / app).rglob("templates"))
        ],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.template.context_processors.i18n",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "portal.context_processors.places",
            ],
        },
    }
]
CRISPY_ALLOWED_TEMPLATE_PACKS = CRISPY_TEMPLATE_PACK = "bootstrap5"

# --- Data -----------------------------------------------------------------------------------
DATABASES = {"default": environ.Env.db_url_config(DATABASE_URL)}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # IMMEDIATE: a transaction that means to write waits its turn at the start and not in the
    # middle, where SQLite could only refuse it. FULL: an answered upload outlives a power cut.
    DATABASES["default"]["OPTIONS"] = {
        "timeout": 20,
        "transaction_mode": "IMMEDIATE",
        "init_command": (
            "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA secure_delete=ON;"
        ),
    }
else:
    DATABASES["default"]["CONN_MAX_AGE"] = 60
    DATABASES["default"]["CONN_HEALTH_CHECKS"] = True
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "portal.static_files.NamedByContent"},
}
if STORAGE_URL:
    STORAGES["renditions"] = bucket_at(STORAGE_URL)
MEDIA_ROOT = DATA_DIR / "media"
# Not the code's own folder, where beat would put it: that may be for reading alone.
CELERY_BEAT_SCHEDULE_FILENAME = str(DATA_DIR / "beat-schedule")
STATIC_ROOT = DATA_DIR / "static"
STATIC_URL = "/static/"
WHITENOISE_KEEP_ONLY_HASHED_FILES = True
WHITENOISE_ALLOW_ALL_ORIGINS = False  # no other site builds on ours
FILE_UPLOAD_PERMISSIONS = 0o600
FILE_UPLOAD_DIRECTORY_PERMISSIONS = 0o700
FILE_UPLOAD_MAX_MEMORY_SIZE = 1_000_000
FILE_UPLOAD_TEMP_DIR = None

# --- Jobs -----------------------------------------------------------------------------------
CELERY_BROKER_URL = text("REDIS_URL") or f"redis+socket://{quote(str(socket_path(DATA_DIR)))}"
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_SERIALIZER = "json"
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
# By weight, so that nothing waits behind what takes longer; see portal.jobs.slots. Each piece is
# decoded in a child of its own, so threads are enough, and most of them wait.
CELERY_TASK_QUEUES = [Queue(name) for name in ("now", "photos", "clips", "nights")]
CELERY_TASK_DEFAULT_QUEUE = "now"
CELERY_TASK_ROUTES = {
    "evidence.jobs.scrub": {"queue": "nights"},
    "evidence.jobs.look_again_at_damaged": {"queue": "nights"},
    "portal.data_protection.jobs.*": {"queue": "nights"},
    "assessment.jobs.make_due_summaries": {"queue": "nights"},
}
CELERY_WORKER_POOL = "threads"
CELERY_WORKER_CONCURRENCY = 2 * JOB_WORKERS + 14  # work in slots, mails, nights, and some to spare
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
# A page must not hang because the broker does: the sweep sends again what could not be sent.
CELERY_BROKER_TRANSPORT_OPTIONS = {
    "socket_connect_timeout": 1,
    "socket_timeout": 5,
    "max_retries": 0,
}
CELERY_TASK_PUBLISH_RETRY = False
CELERY_TIMEZONE = "UTC"
CELERY_BEAT_SCHEDULE = SCHEDULE

# --- People ---------------------------------------------------------------------------------
AUTH_USER_MODEL = "people.User"
LOGIN_URL = "people:sign-in"
LOGIN_REDIRECT_URL = "home"
PASSWORD_HASHERS = ["portal.people.accounts.password_hashing.OneAtATime"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}", "OPTIONS": options}
    for name, options in (
        ("MinimumLengthValidator", {"min_length": 12}),
        ("CommonPasswordValidator", {}),
        ("NumericPasswordValidator", {}),
        ("UserAttributeSimilarityValidator", {"user_attributes": ("email", "name")}),
    )
]
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
# The longest anybody may stay away and still be signed in; see portal.people.accounts.sessions.
SESSION_COOKIE_AGE = int(timedelta(days=14).total_seconds())
OTP_TOTP_ISSUER = "Kitchen Counter"
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"
PASSWORD_RESET_TIMEOUT = int(timedelta(days=7).total_seconds())  # The link that sets a password.
# Wrong passwords are counted for an account and a place together: nobody elsewhere is locked out.
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_RESET_ON_SUCCESS = True
AXES_DISABLE_ACCESS_LOG = True
AXES_USERNAME_FORM_FIELD = "username"
AXES_USERNAME_CALLABLE = "portal.people.accounts.rate_limits.account_mark"
AXES_CLIENT_IP_CALLABLE = "portal.people.accounts.rate_limits.place_of"
AXES_LOCKOUT_CALLABLE = "portal.people.accounts.views.sign_in.locked_out"
AXES_SENSITIVE_PARAMETERS = ["email", "password", "username", "ip_address"]
AXES_VERBOSE = False

# --- Languages and time ---------------------------------------------------------------------
LANGUAGE_CODE = "en-gb"
LANGUAGES = offered()
LOCALE_PATHS = [BASE_DIR / "portal" / "locale"]
# Functions of the apps that give every word of theirs its place, and name what a language lacks.
WORD_FILES = ["tasks.word_files.bring_up_to_date"]
LANGUAGE_COOKIE_NAME = "__Host-language" if TLS else "language"
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"  # Each school has its own: see portal.people.timezone_middleware.

# --- Mail -----------------------------------------------------------------------------------
MAIL_CONFIG = environ.Env.email_url_config(EMAIL_URL)
if MAIL_CONFIG["EMAIL_BACKEND"] == "django.core.mail.backends.smtp.EmailBackend":
    MAIL_CONFIG["EMAIL_BACKEND"] = "portal.jobs.smtp.EmailBackend"
vars().update(MAIL_CONFIG)
if DEMO:  # Anybody may type anybody's address there.
    EMAIL_BACKEND = "portal.demo.mails.KeepOnly"
EMAIL_TIMEOUT = 10  # seconds for one answer of the mail server
DEFAULT_FROM_EMAIL = SERVER_EMAIL = MAIL_FROM
PUSH_ANYWHERE = False  # Tests alone wake a stand-in on this machine; see evidence.reminders.push.

# --- Hard edges -----------------------------------------------------------------------------
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = TLS
SESSION_COOKIE_NAME = "__Host-session" if TLS else "session"
CSRF_COOKIE_NAME = "__Host-csrf" if TLS else "csrf"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
CSRF_TRUSTED_ORIGINS = [SITE_URL]
SECURE_SSL_REDIRECT = TLS
SILENCED_SYSTEM_CHECKS = [
    "security.W021",  # Browsers' own lists are a matter of the whole domain.
    "auth.W004",  # Addresses are unique among those that are proved; no others are looked up.
]
SECURE_REDIRECT_EXEMPT = ["^healthz$"]
SECURE_HSTS_SECONDS = int(timedelta(days=365).total_seconds()) if TLS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
BEHIND_PROXY = flag("BEHIND_PROXY")
if BEHIND_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "blob:"],
        "media-src": [SELF, "blob:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "object-src": [NONE],
        "frame-ancestors": [NONE],
    }
}
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_500_000
# The sending page keeps twelve, and says of the others that they are too many.
DATA_UPLOAD_MAX_NUMBER_FILES = 100

# --- Privacy --------------------------------------------------------------------------------
# What portal.data_protection.hooks calls; it says what each gives. The highest app comes first.
RETENTION = [
    "evidence.retention.RETENTION",
    "assessment.retention.RETENTION",
    "portal.data_protection.retention.of_people.RETENTION",
    "portal.data_protection.retention.own.RETENTION",
]
EXPORTS = [
    "portal.data_protection.data_export.of_people.copy",
    "evidence.data_export.copy",
    "assessment.data_export.copy",
]
SCHOOL_EXPORTS = [
    "portal.data_protection.data_export.of_people.of_school",
    "tasks.data_export.of_school",
]
ERASERS = [
    "assessment.erasure.erase",
    "evidence.erasure.erase",
    "portal.data_protection.erasure.erase.erase",
    "portal.data_protection.erasure.of_people.erase",
]
CLOSERS = [
    "assessment.erasure.close",
    "tasks.erasure.close",
    "portal.data_protection.erasure.erase.close",
    "portal.data_protection.erasure.of_people.close",
]

# --- First steps ----------------------------------------------------------------------------
# What portal.guide shows somebody new: each yields the steps of one app.
FIRST_STEPS = [
    "portal.guide.people_steps.steps",
    "portal.data_protection.first_steps.steps",
    "tasks.first_steps.steps",
    "evidence.first_steps.steps",
    "assessment.first_steps.steps",
]

# --- Upkeep ---------------------------------------------------------------------------------
# Functions of the apps that portal.operations.hooks calls; it says what each gives.
FILE_STORE = "evidence.storage.store"
# No file comes or goes without a change to a row of one of these.
FILE_OWNERS = ["evidence.Piece", "assessment.VoiceReply"]
STORED_FILES = ["evidence.operations.stored_files", "assessment.operations.stored_files"]
NAMED_FILES = ["assessment.operations.named_files"]
LACKS = ["evidence.operations.lacks"]
WHOSE_FILES = ["evidence.operations.whose_files", "assessment.operations.whose_files"]
METRICS = ["evidence.operations.figures", "assessment.operations.figures"]
POST_RESTORE = [
    "portal.data_protection.erasure.erase.erase_again",
    "portal.people.post_restore.end_again",
    "portal.people.post_restore.close_ways_in",
    "evidence.operations.after_restore",
    "assessment.operations.after_restore",
]
ERASURES_FILE = DATA_DIR / "erasures.jsonl"
METRICS_TOKEN = text("METRICS_TOKEN")
if METRICS_TOKEN and len(METRICS_TOKEN) < 16:
    raise ImproperlyConfigured("METRICS_TOKEN is too short: use at least 16 random characters.")
DKIM_SELECTOR = text("DKIM_SELECTOR")
LOG_FORMAT = choice("LOG_FORMAT", "plain", "json")
CELERY_WORKER_HIJACK_ROOT_LOGGER = False  # Jobs' lines are to look like all others.


LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "plain": {"()": "portal.operations.logs.PlainLines"},
        "json": {"()": "portal.operations.logs.JsonLines"},
    },
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": LOG_FORMAT}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {
        # It warns of every page that is not there; see portal.operations.logs for its lines.
        "django.request": {"handlers": ["console"], "level": "ERROR", "propagate": False},
        "gunicorn.error": {"handlers": ["console"], "level": "WARNING", "propagate": False},
        # Its lines carry addresses of people.
        "axes": {"level": "ERROR"},
        "portal": {"level": "INFO"},
        "evidence": {"level": "INFO"},
        "assessment": {"level": "INFO"},
    },
}
