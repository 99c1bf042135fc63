"""The settings of the test suite: the site's own, with a scratch folder and quick passwords."""

from __future__ import annotations

import os
import tempfile

SCRATCH = tempfile.TemporaryDirectory(prefix="coachbook-test-")  # gone when the run ends
os.environ["COACHBOOK_DATA"] = SCRATCH.name

from coachbook.settings import *  # noqa: E402, F403 - the folder has to be named first
from coachbook.settings import DATABASES, STATIC_ROOT  # noqa: E402

if "sqlite3" in str(DATABASES["default"]["ENGINE"]):
    # A file, as in a real club: a database in memory locks whole tables between the threads of
    # a live server and its test. Nothing here has to survive a power cut.
    DATABASES["default"]["TEST"] = {"NAME": f"{SCRATCH.name}/test.sqlite3"}
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF;",
    }
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.InMemoryStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
# The static files stand where the finders see them; nothing is collected for a test.
STATIC_ROOT.mkdir()
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = False
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "testserver"]
TIME_ZONE = "Europe/Vienna"
