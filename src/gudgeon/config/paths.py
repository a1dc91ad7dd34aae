"""Where a shop's data live, and its generated secret."""

import os
import secrets
from pathlib import Path

from platformdirs import user_data_path


def data_folder() -> Path:
    """The shop's data folder: ``GUDGEON_DATA`` or the place this system keeps such things."""
    chosen = os.environ.get("GUDGEON_DATA")
    folder = Path(chosen).expanduser() if chosen else user_data_path("gudgeon", appauthor=False)
    folder.mkdir(parents=True, exist_ok=True)
    return folder.resolve()


def secret_key(folder: Path) -> str:
    """The key that signs cookies: made once for each data folder, readable by its owner only.

    Written aside and renamed: a full disk or a pulled plug must not leave an empty key behind.
    """
    path = folder / "secret"
    if not path.exists() or not path.stat().st_size:
        half = folder / f".secret.{secrets.token_hex(4)}"
        descriptor = os.open(half, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        try:
            with os.fdopen(descriptor, "w", encoding="ascii") as file:
                file.write(secrets.token_urlsafe(48))
            half.replace(path)
        finally:
            half.unlink(missing_ok=True)
    return path.read_text(encoding="ascii")
