"""The portal's settings, with a data folder of the test run's own and quick passwords."""

import os
import tempfile

os.environ.setdefault("DATA_DIR", tempfile.mkdtemp(prefix="kitchen-counter-test-"))
os.environ.setdefault("EMAIL_URL", "memorymail://")

from portal.settings import *

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
WHITENOISE_AUTOREFRESH = True
# Jobs are called by the tests that are about them; a job sent by a page goes nowhere.
CELERY_BROKER_URL = "memory://"
if "sqlite3" in DATABASES["default"]["ENGINE"]:
    # In memory, a page that is still being served locks tables against the test that goes on, and
    # nobody waits for such a lock. In a file they wait; what a power cut leaves of it is nothing.
    DATABASES["default"]["TEST"] = {"NAME": str(DATA_DIR / "test.sqlite3")}
    DATABASES["default"]["OPTIONS"]["init_command"] = (
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF;"
    )
