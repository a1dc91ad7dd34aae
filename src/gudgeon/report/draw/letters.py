"""How wide a text runs in the shipped font, so that labels can be placed without a browser."""

# Advance widths of B612 (Regular and Bold share them) in thousandths of the type size.
_WIDTHS = {
    200: "'|",
    250: ",;·",
    300: ".:Iij°",
    350: " !l\u00a0",
    400: '"frt',
    450: "()-J[s",
    500: "=]cz",
    525: "a",
    550: "$*/?FLS\\_`ekvxy–−",
    600: "+CEKPTYZbdghnopqu}±",
    650: "0123456789<>ABDGRVXµ{",
    700: "&HU",
    750: "N^w~",
    800: "OQ×",
    850: "#",
    900: "%Mm",
    950: "W",
    1000: "@",
}
_WIDTH_OF = {letter: width for width, letters in _WIDTHS.items() for letter in letters}
_OTHER = 700


def text_width(text: str, size: float) -> float:
    """Width of a line of text at a type size, in the size's own unit."""
    return sum(_WIDTH_OF.get(letter, _OTHER) for letter in text) * size / 1000


def clipped(text: str, size: float, room: float) -> str:
    """The text, or as much of it as fits the room, ending in an ellipsis."""
    if text_width(text, size) <= room:
        return text
    kept = text
    while kept and text_width(kept + "…", size) > room:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def wrapped(text: str, size: float, room: float) -> tuple[str, ...]:
    """The text broken at spaces into lines no wider than the room; a longer word is clipped."""
    lines: list[str] = []
    for word in text.split():
        trial = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(trial, size) <= room:
            lines[-1] = trial
        else:
            lines.append(clipped(word, size, room))
    return tuple(lines)
