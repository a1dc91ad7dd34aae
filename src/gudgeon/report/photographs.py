"""The photographs of a record: a grid with captions, when each was taken, and its hash."""

from collections.abc import Collection, Iterator

from gudgeon.catalog import catalog
from gudgeon.job.album import photographs_in_order
from gudgeon.job.objects import Job
from gudgeon.job.photographs import Photograph
from gudgeon.report.content import Block, Content, Gallery, Paragraph, Points, Section, Shot
from gudgeon.report.decisions import part_title
from gudgeon.report.phrases import day, person, sentence_case

SHORT = 12  # digits of a hash that people compare
_KEPT = (
    "The number under each is the beginning of the SHA-256 of the picture as it is kept, in full size; "
    "the whole of it is in this paper's content."
)


def photographs(job: Job, pictures: Collection[str], most: int | None = None) -> Section | None:
    """The section of a paper. ``pictures`` are the hashes of the screen pictures that are at hand; ``most``:
    how many are shown, the rest being counted."""
    kept = list(enumerate(photographs_in_order(job.photographs), 1))
    if not kept:
        return None
    every = kept[:most]
    shots = tuple(_shot(job, number, one) for number, one in every if one.screen in pictures)
    absent = tuple(_absent(number, one) for number, one in every if one.screen not in pictures)
    blocks: list[Block] = []
    if shots:
        blocks += [Gallery(shots), Paragraph(_KEPT, "small")]
    if absent:
        blocks.append(Points(absent))
    if left := len(kept) - len(every):
        blocks.append(Paragraph(f"{left} more {'is' if left == 1 else 'are'} kept with the job.", "small"))
    return Section("Photographs", tuple(blocks))


def _shot(job: Job, number: int, one: Photograph) -> Shot:
    about = photograph_about(job, one)
    caption = sentence_case(one.caption) or about or "Without a caption"
    words = (about if one.caption else "", taken_words(one), person(job, one.by), one.sha256[:SHORT])
    return Shot(
        sha256=one.sha256,
        screen=one.screen,
        alt=f"Photograph {number}: {caption}",
        caption=f"{number}. {caption}",
        says=" · ".join(word for word in words if word),
    )


def _absent(number: int, one: Photograph) -> str:
    caption = f" (“{one.caption}”)" if one.caption else ""
    return (
        f"Photograph {number}{caption} did not come with the job file; "
        f"its SHA-256 begins with {one.sha256[:SHORT]}."
    )


def photograph_about(job: Job, one: Photograph) -> str:
    """What it shows: the part, the step or the finding it was put to; empty for the job as a whole."""
    finding = next((finding.text for finding in job.findings if finding.id == one.finding), "")
    step = catalog().operations.get(one.step or "")
    words = (
        part_title(job, one.part, one.instance, ()) if one.part else "",
        step.what if step else "",
        f"found: {finding}" if finding else "",
    )
    return sentence_case("; ".join(word for word in words if word))


def taken_words(one: Photograph) -> str:
    """When it was taken, by the camera's clock; empty where the camera did not say."""
    return f"taken {day(one.taken)}, {one.taken[11:16]}" if one.taken else ""


def pictures_wanted(content: Content) -> Iterator[Shot]:
    """Every photograph that a content shows."""
    for section in content.sections:
        for block in section.blocks:
            if isinstance(block, Gallery):
                yield from block.shots
