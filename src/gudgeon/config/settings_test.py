"""Settings for the tests: a folder of their own, static files without a manifest (live servers need that)."""

import os
import tempfile
from pathlib import Path

os.environ.setdefault("GUDGEON_DATA", tempfile.mkdtemp(prefix="gudgeon-test-"))

from gudgeon.config.settings import *  # noqa: F403  these settings are those, but for what follows
from gudgeon.config.settings import DATABASES, STORAGES

STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = True
# A file, not memory: the pragmas, the locks and the threads of the real thing.
if "sqlite3" in DATABASES["default"]["ENGINE"]:
    DATABASES["default"]["TEST"] = {"NAME": str(Path(os.environ["GUDGEON_DATA"]) / "test.sqlite3")}
# Tests empty their tables between each other; the tests of the seal put it on themselves.
SEAL_FACTS = False
