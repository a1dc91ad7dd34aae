"""The one error of this room: a sentence saying what was given and what is allowed."""

LONGEST_ECHO = 32


class Refused(ValueError):  # noqa: N818  a sentence reads "except Refused"; the name says what happened
    """Text that is not taken; ``str()`` is one finished sentence for the person who typed it."""


def quoted(text: str) -> str:
    """The given text in quotation marks, cut when it is too long to repeat."""
    plain = "".join(character if character.isprintable() else " " for character in text).strip()
    return f"“{plain}”" if len(plain) <= LONGEST_ECHO else f"“{plain[:LONGEST_ECHO]}…”"


def listed(words: list[str]) -> str:
    """Words as a person lists them: a, b or c."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
