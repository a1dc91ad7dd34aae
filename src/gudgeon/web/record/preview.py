"""A paper's content laid out for the screen, block by block."""

from collections.abc import Iterable
from dataclasses import dataclass

from gudgeon.report.content import Beside, Block, Content


@dataclass(frozen=True, slots=True)
class Shown:
    """A block and the template that shows it."""

    template: str
    block: object
    left: tuple["Shown", ...] = ()
    right: tuple["Shown", ...] = ()


@dataclass(frozen=True, slots=True)
class Laid:
    """The page a customer reads, and everything behind it."""

    first: tuple["SectionShown", ...]
    rest: tuple["SectionShown", ...]


@dataclass(frozen=True, slots=True)
class SectionShown:
    """A heading and its blocks."""

    title: str
    blocks: tuple[Shown, ...]


def laid_out(content: Content) -> Laid:
    """The sections of a paper, as far as its first page goes and after it."""
    turned = next((n for n, section in enumerate(content.sections) if n and section.new_page), None)
    shown = tuple(SectionShown(section.title, _all(section.blocks)) for section in content.sections)
    return Laid(shown, ()) if turned is None else Laid(shown[:turned], shown[turned:])


def _all(blocks: Iterable[Block]) -> tuple[Shown, ...]:
    return tuple(_one(block) for block in blocks)


def _one(block: Block) -> Shown:
    tag = type(block).__struct_config__.tag
    if isinstance(block, Beside):
        return Shown("record/beside.html", block, _all(block.left), _all(block.right))
    return Shown(f"record/{tag}.html", block)
