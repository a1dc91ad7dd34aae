"""Settings for the tests: a folder of their own, and static files without a manifest (live servers need that)."""

import os
import tempfile

os.environ.setdefault("GUDGEON_DATA", tempfile.mkdtemp(prefix="gudgeon-test-"))

from gudgeon.config.settings import *  # noqa: E402, F403  the folder must be set before the settings are read
from gudgeon.config.settings import DATABASES, STORAGES  # noqa: E402  same

STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = True
# A file, not memory: the pragmas, the locks and the threads of the real thing.
if "sqlite3" in DATABASES["default"]["ENGINE"]:
    DATABASES["default"]["TEST"] = {"NAME": os.path.join(os.environ["GUDGEON_DATA"], "test.sqlite3")}
