"""One file of settings; what differs between installations comes from environment variables."""

import os
from pathlib import Path

import dj_database_url
import fontpkg_barlow
import fontpkg_zilla_slab
from django.core.exceptions import ImproperlyConfigured
from django.utils.csp import CSP

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = Path(os.environ.get("SCREEDBOOK_DATA", BASE_DIR / ".data"))
DEBUG = os.environ.get("SCREEDBOOK_DEBUG", "") == "1"

# Matrices of the labour model are small: threads would only wait for each other. Read when numpy is imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def _secret_key() -> str:
    """The key from the environment, or one made on first use and kept beside the data."""
    if "SECRET_KEY" in os.environ:
        return os.environ["SECRET_KEY"]
    DATA_DIR.mkdir(parents=True, exist_ok=True)
    file = DATA_DIR / "secret-key"
    if not file.exists():
        from django.core.management.utils import get_random_secret_key

        file.write_text(get_random_secret_key())
        file.chmod(0o600)
    return file.read_text()


SECRET_KEY = _secret_key()
ALLOWED_HOSTS = os.environ.get("ALLOWED_HOSTS", "localhost,127.0.0.1,[::1]").split(",")
CSRF_TRUSTED_ORIGINS = [origin for origin in os.environ.get("TRUSTED_ORIGINS", "").split(",") if origin]

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "allauth",
    "allauth.account",
    "django_htmx",
    "labour",
    "quoting",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.csp.ContentSecurityPolicyMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

ROOT_URLCONF = "quoting.urls"
WSGI_APPLICATION = "quoting.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
            "builtins": ["quoting.documents.filters"],
        },
    }
]

_SQLITE_INIT = "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA cache_size=-20000;"


def _database() -> dict[str, object]:
    """DATABASE_URL, or a SQLite file beside the data."""
    if "DATABASE_URL" in os.environ:
        return dict(dj_database_url.parse(os.environ["DATABASE_URL"], conn_max_age=60))
    DATA_DIR.mkdir(parents=True, exist_ok=True)
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": DATA_DIR / "screedbook.sqlite3",
        "OPTIONS": {"transaction_mode": "IMMEDIATE", "timeout": 20, "init_command": _SQLITE_INIT},
    }


DATABASES = {"default": _database()}

AUTH_USER_MODEL = "labour.User"
AUTHENTICATION_BACKENDS = ["allauth.account.auth_backends.AuthenticationBackend"]
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*", "password2*"]
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_LOGOUT_ON_GET = False
ACCOUNT_SESSION_REMEMBER = True
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "home"
ACCOUNT_LOGOUT_REDIRECT_URL = "account_login"
PASSWORD_HASHERS = ["django.contrib.auth.hashers.ScryptPasswordHasher"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]


def _mailer() -> dict[str, object]:
    """The mail server of the environment; without one, letters are written to files beside the data."""
    if os.environ.get("EMAIL_BACKEND"):
        return {"BACKEND": os.environ["EMAIL_BACKEND"]}
    if not os.environ.get("EMAIL_HOST"):
        files = "django.core.mail.backends.filebased.EmailBackend"
        return {"BACKEND": files, "OPTIONS": {"file_path": DATA_DIR / "letters"}}
    tls = os.environ.get("EMAIL_TLS", "starttls")
    if tls not in ("starttls", "ssl", "none"):
        raise ImproperlyConfigured(f"EMAIL_TLS must be starttls, ssl or none, not {tls!r}.")
    options = {
        "host": os.environ["EMAIL_HOST"],
        "port": int(os.environ["EMAIL_PORT"]) if os.environ.get("EMAIL_PORT") else None,
        "username": os.environ.get("EMAIL_USER"),
        "password": os.environ.get("EMAIL_PASSWORD"),
        "use_tls": tls == "starttls",
        "use_ssl": tls == "ssl",
        "timeout": 20,
    }
    return {"BACKEND": "django.core.mail.backends.smtp.EmailBackend", "OPTIONS": options}


MAILERS = {"default": _mailer()}
DEFAULT_FROM_EMAIL = os.environ.get("DEFAULT_FROM_EMAIL", "office@example.com")

LANGUAGE_CODE = "en-us"
TIME_ZONE = os.environ.get("TIME_ZONE", "America/New_York")
USE_TZ = True
USE_I18N = False

STATIC_URL = "static/"
STATIC_ROOT = BASE_DIR / ".static"
STATICFILES_DIRS = [
    ("fonts", fontpkg_barlow.ROOT / "files"),
    ("fonts", fontpkg_zilla_slab.ROOT / "files"),
]
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = DEBUG

SECURE_CSP = {
    "default-src": [CSP.NONE],
    "script-src": [CSP.SELF],
    "style-src": [CSP.SELF],
    "img-src": [CSP.SELF, "data:"],
    "font-src": [CSP.SELF],
    "connect-src": [CSP.SELF],
    "form-action": [CSP.SELF],
    "frame-ancestors": [CSP.NONE],
    "base-uri": [CSP.NONE],
}
_HTTPS = os.environ.get("SCREEDBOOK_HTTPS", "") == "1"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = _HTTPS
SECURE_HSTS_SECONDS = 31_536_000 if _HTTPS else 0
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if _HTTPS else None
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
X_FRAME_OPTIONS = "DENY"
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_000_000
# Twenty rooms on one form come to about 2,000 fields.
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5_000
ROOMS_FILE_LIMIT = 1_000_000
# A folder with <firm's id>.p12 and <firm's id>.password for each firm that seals its papers.
SEALS = Path(os.environ["SCREEDBOOK_SEALS"]) if os.environ.get("SCREEDBOOK_SEALS") else None
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
