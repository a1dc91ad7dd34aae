"""The square that a phone's camera reads (QR code, ISO/IEC 18004)."""

import segno


def square(text: str, title: str) -> str:
    """Text as a square, dark on white in every light, because cameras want it so."""
    made = segno.make(text, error="m", micro=False)
    return str(
        made.svg_inline(
            dark="#000000",
            light="#ffffff",
            border=4,
            title=title,
            svgclass="square",
            lineclass=None,
            omitsize=True,
        )
    )
