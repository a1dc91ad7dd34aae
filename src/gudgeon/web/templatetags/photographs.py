"""A strip of photographs for the pages of a job."""

from urllib.parse import urlencode

from django import template
from django.urls import reverse

from gudgeon.job import Job
from gudgeon.web.measure.components import Component
from gudgeon.web.photographs.album import shots, shots_of

register = template.Library()
MOST = 8  # on a strip; the others have their page


@register.inclusion_tag("photographs/strip.html")
def photograph_strip(job: Job, component: Component | None = None) -> dict[str, object]:
    """The job's photographs, or those of the parts a measuring page is about, and a way to add more."""
    here = {one.screen for one in job.photographs}
    found = shots_of(job, component) if component else shots(job, here)
    add = reverse("photographs", args=[job.number])
    if component:
        back = reverse("measure_part", args=[job.number, component.slug])
        add += "?" + urlencode({"component": component.slug, "back": back})
    return {
        "job": job,
        "shots": found[:MOST],
        "all": len(found),
        "left": len(found) > MOST,
        "label": f"Photographs: {component.title.lower()}" if component else "Photographs of this job",
        "add": f"{add}#add-shots",
    }
