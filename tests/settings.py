"""The project's settings, made fast for tests."""

import os

os.environ.setdefault("SECRET_KEY", "only-for-tests")

from quoting.settings import *  # noqa: F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
MAILERS = {"default": {"BACKEND": "django.core.mail.backends.locmem.EmailBackend"}}
WHITENOISE_AUTOREFRESH = True
