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
    """The key that signs cookies: made once for each data folder, readable by its owner only."""
    path = folder / "secret"
    try:
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return path.read_text(encoding="ascii")
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        key = secrets.token_urlsafe(48)
        file.write(key)
    return key
