"""The condition report: on the page, and on paper."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from gudgeon.assess.diagnosis import Diagnosis
from gudgeon.assess.diagnosis.chosen import differs
from gudgeon.catalog import catalog
from gudgeon.job import Job
from gudgeon.job.asked import SCOPE_LEFT, SCOPE_REASON
from gudgeon.records.services.asked import LEFT
from gudgeon.records.services.entry import now
from gudgeon.records.shapes import stamp
from gudgeon.report.condition import condition_content
from gudgeon.report.content import Content
from gudgeon.report.typesetting import typeset
from gudgeon.web.diagnosis.views import diagnosed
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.papers import paper_in_use, pdf
from gudgeon.web.record.preview import laid_out


def condition(request: HttpRequest, number: str) -> HttpResponse:
    """What would be handed to the owner, as it stands now."""
    opened = open_job_page(request, number)
    content = _content(opened)
    context = opened.context() | {"content": content, "sections": laid_out(content), "marks": content.marks}
    return render(request, "diagnosis/report.html", context)


def condition_paper(request: HttpRequest, number: str) -> HttpResponse:
    """The same on paper."""
    content = _content(open_job_page(request, number))
    return pdf(typeset(content), f"condition-report-{number}.pdf")


def _content(opened: Opened) -> Content:
    job, found = opened.job, diagnosed(opened)
    return condition_content(
        job,
        found,
        opened.assessment.leaks,
        issued_at=stamp(now()),
        paper=paper_in_use(),
        chosen=chosen_instead(job, found),
        reason=job.facts.get(SCOPE_REASON, ""),
    )


def chosen_instead(job: Job, found: Diagnosis) -> tuple[str, ...]:
    """What the builder chose, where it is not what is proposed."""
    left = job.facts.get(SCOPE_LEFT, "")
    if not (job.scope or left) or not differs(found, job.scope, left):
        return ()
    return (LEFT[left],) if left in LEFT else tuple(catalog().scopes[one].words for one in job.scope)
