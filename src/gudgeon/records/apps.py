"""The app that owns every table."""

from django.apps import AppConfig
from django.conf import settings
from django.db.models.signals import post_migrate


class RecordsConfig(AppConfig):
    """Registers the start-up checks and the seal on facts."""

    name = "gudgeon.records"
    label = "records"
    verbose_name = "Shop records"

    def ready(self) -> None:
        """Load the checks; after every migration put the seal on the facts again."""
        from gudgeon.records import checks, seal  # noqa: F401  importing the checks registers them

        if getattr(settings, "SEAL_FACTS", True):
            post_migrate.connect(seal.after_migrate, sender=self)
