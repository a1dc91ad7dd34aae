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
class SectionShown:
    """A heading and its blocks."""

    title: str
    blocks: tuple[Shown, ...]


def laid_out(content: Content) -> tuple[SectionShown, ...]:
    """The sections of a paper."""
    return tuple(SectionShown(section.title, _all(section.blocks)) for section in content.sections)


def _all(blocks: Iterable[Block]) -> tuple[Shown, ...]:
    return tuple(_one(block) for block in blocks)


def _one(block: Block) -> Shown:
    tag = type(block).__struct_config__.tag
    if isinstance(block, Beside):
        return Shown("record/beside.html", block, _all(block.left), _all(block.right))
    return Shown(f"record/{tag}.html", block)
