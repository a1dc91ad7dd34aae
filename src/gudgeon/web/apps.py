"""The pages of the bench."""

from django.apps import AppConfig


class WebConfig(AppConfig):
    """Pages, templates and static files; its tables live in ``records``."""

    name = "gudgeon.web"
    label = "web"
