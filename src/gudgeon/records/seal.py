"""Seal."""


def after_migrate(**_: object) -> None:
    """Nothing yet."""
