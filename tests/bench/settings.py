"""The project's settings, with one bare address to compare pages against."""

from quoting.settings import *  # noqa: F403

ROOT_URLCONF = "tests.bench.urls"
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
ALLOWED_HOSTS = ["testserver"]
