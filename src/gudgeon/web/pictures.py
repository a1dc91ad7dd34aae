"""Pictures for the page, with the page's ink, each with its message beside it."""

import html
import re
from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.assess.results import Assessment
from gudgeon.catalog import Characteristic
from gudgeon.job import Job
from gudgeon.report.draw import PAGE
from gudgeon.report.pictures import bore_picture


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture with its message."""

    svg: str

    @property
    def message(self) -> str:
        """What the picture says, in one sentence."""
        found = re.search(r"<desc>(.*?)</desc>", self.svg)
        return html.unescape(found[1]) if found else ""


def of_component(rows: Sequence[Characteristic], job: Job, assessment: Assessment) -> tuple[Picture, ...]:
    """The pictures of a part's page: the bore as measured, for every cylinder that has readings."""
    if not any(row.key == "bore_diameter" for row in rows):
        return ()
    cylinders = dict.fromkeys(
        v.place.instance for v in assessment.verdicts if v.place.characteristic == "bore_diameter"
    )
    drawn = (bore_picture(job, assessment, cylinder, PAGE) for cylinder in cylinders)
    return tuple(Picture(svg) for svg in drawn if svg)
