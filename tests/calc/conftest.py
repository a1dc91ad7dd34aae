"""The studies of full size are collected only when the whole is asked for."""

import os

collect_ignore_glob = [] if os.environ.get("GUDGEON_FULL") == "1" else ["test_full_*.py"]
