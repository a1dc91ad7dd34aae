"""The two inks: paper, with literal colours and the shipped font; page, with classes and currentColor."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Tone = Literal["ink", "steel", "scribe", "mark", "brass", "paper"]

FONT = "B612"


@dataclass(frozen=True, slots=True)
class Ink:
    """How tones are put down. A page colours them by the classes ``draw-ink``, ``draw-steel`` and so on."""

    name: Literal["paper", "page"]
    colours: Mapping[str, str] = field(default_factory=dict)
    family: str = ""

    def dye(self, tone: Tone, use: Literal["fill", "stroke"]) -> dict[str, str]:
        """Presentation attributes that fill or stroke in a tone."""
        if self.name == "page":
            return {"class": f"draw-{tone}", use: "currentColor"}
        return {use: self.colours[tone]}


PAPER = Ink(
    name="paper",
    family=FONT,
    colours={
        "ink": "#1c1f22",
        "steel": "#5b6670",
        "scribe": "#1f5f8b",
        "mark": "#a3261c",
        "brass": "#8a6a1f",
        "paper": "#ffffff",
    },
)
PAGE = Ink(name="page")
