"""Photographs as the pages show them, and what one can be put to."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from gudgeon.catalog import applies, catalog, count, instances
from gudgeon.job import Job, in_force
from gudgeon.job.album import photographs_in_order
from gudgeon.job.photographs import Photograph
from gudgeon.records.developing import THUMBNAIL
from gudgeon.records.services.photograph import PhotographTyped
from gudgeon.report.decisions import part_title
from gudgeon.report.photographs import SHORT, photograph_about, taken_words
from gudgeon.web.measure.components import Component, component_called

Choice = tuple[str, str]  # what the form sends, and its words


@dataclass(frozen=True, slots=True)
class Shot:
    """One photograph on a page."""

    job: Job
    number: int
    one: Photograph
    here: Collection[str]  # screen pictures that have come to this shop

    @property
    def there(self) -> bool:
        """Whether its pictures are here."""
        return self.one.screen in self.here

    @property
    def about(self) -> str:
        """What it shows, in words."""
        return photograph_about(self.job, self.one)

    @property
    def about_key(self) -> str:
        """What it shows, as the form sends it."""
        one = self.one
        if one.part:
            return f"part:{one.part}:{one.instance}"
        return f"finding:{one.finding}" if one.finding else f"step:{one.step}" if one.step else ""

    @property
    def taken(self) -> str:
        """When it was taken."""
        return taken_words(self.one)

    @property
    def alt(self) -> str:
        """What stands for it where it is not seen."""
        said = self.one.caption or self.about or "without a caption"
        return f"Photograph {self.number}: {said}" if self.number else f"Photograph: {said}"

    @property
    def digest(self) -> str:
        """The beginning of its hash."""
        return self.one.sha256[:SHORT]

    @property
    def small(self) -> tuple[int, int]:
        """Width and height of the thumbnail, so that the page keeps its place while it comes."""
        scale = min(1.0, THUMBNAIL / max(self.one.width, self.one.height, 1))
        return max(1, round(self.one.width * scale)), max(1, round(self.one.height * scale))


def shots(job: Job, here: Collection[str]) -> tuple[Shot, ...]:
    """The photographs of the job in their order."""
    return tuple(Shot(job, n, one, here) for n, one in enumerate(photographs_in_order(job.photographs), 1))


def shots_of(job: Job, component: Component) -> tuple[Shot, ...]:
    """Those of the parts that a measuring page is about; all are taken to be here."""
    parts = {part for part, _ in _sites(job, component)}
    here = {one.screen for one in job.photographs}
    return tuple(shot for shot in shots(job, here) if shot.one.part in parts)


def _sites(job: Job, component: Component | None) -> Iterator[tuple[str, str]]:
    """The parts of this engine, or those that a component's readings bear on."""
    rows = {row.key for row in component.rows} if component else set()
    layout = job.sheet.layout
    for part in catalog().parts.values():
        if component and rows.isdisjoint(part.limits):
            continue
        if applies(part.applies_if, layout) and count(layout, part.quantity) > 0:
            for instance in instances(layout, part.per):
                yield part.key, instance


@dataclass(frozen=True, slots=True)
class Choices:
    """What a photograph can be put to: parts, findings, one step; and which is chosen."""

    parts: tuple[Choice, ...]
    findings: tuple[Choice, ...]
    steps: tuple[Choice, ...]
    chosen: str


def about_choices(job: Job, component: str, chosen: str) -> Choices:
    """The choices of a form. ``component`` narrows the parts to those of one measuring page."""
    of = component_called(job, component) if component else None
    parts = [(f"part:{part}:{place}", part_title(job, part, place, ())) for part, place in _sites(job, of)]
    findings = () if of else tuple((f"finding:{one.id}", one.text[:70]) for one in in_force(job.findings))
    kind, _, key = chosen.partition(":")
    step = catalog().operations.get(key) if kind == "step" else None
    if of and not chosen and len(parts) == 1:
        chosen = parts[0][0]
    return Choices(
        tuple(sorted(parts, key=lambda choice: choice[1])),
        findings,
        ((chosen, step.what),) if step else (),
        chosen,
    )


def typed_about(about: str, caption: str) -> PhotographTyped:
    """A caption, and what was chosen, as the form sends it."""
    kind, _, rest = about.partition(":")
    if kind == "part":
        part, _, instance = rest.partition(":")
        return PhotographTyped(caption=caption, part=part, instance=instance)
    if kind == "finding":
        return PhotographTyped(caption=caption, finding=rest)
    return PhotographTyped(caption=caption, step=rest if kind == "step" else None)
