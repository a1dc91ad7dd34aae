"""The first letter of a phrase, as it stands in a sentence or begins one."""


def inside(text: str) -> str:
    """A phrase as it stands within a sentence."""
    return f"{text[:1].lower()}{text[1:]}"


def capital(text: str) -> str:
    """A phrase as it begins a sentence."""
    return f"{text[:1].upper()}{text[1:]}"
