"""A leak-down test put right or taken back; what was there before stays on record."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from gudgeon.assess.wording.leaks import readings
from gudgeon.job import LeakTest, last_readings, newest_of
from gudgeon.quantities import Refused
from gudgeon.records import queries
from gudgeon.records.services.entry import BadEntry, Form, Overtaken
from gudgeon.records.services.leak_test import record_leak_test, take_back_leak_test
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.leak.forms import again, from_sent, tester_of, typed
from gudgeon.web.leak.pages import form_page, result_page
from gudgeon.web.tokens import form_of, new_token, who_works

CORRECTED = (
    "Somebody corrected this test in the meantime, to {}. Send this once more to put yours in its place."
)
TAKEN_BACK = (
    "Somebody took this test back in the meantime, because: {}. Send this once more to bring it back."
)
STANDS = "Somebody corrected this test in the meantime; it was not taken back. Look at it as it stands now."


@require_http_methods(["GET", "POST"])
def leak_correct(request: HttpRequest, number: str, test: str) -> HttpResponse:
    """The form with what was typed, to be put right."""
    opened = open_job_page(request, number)
    newest = newest_of(opened.job.leak_tests, test)
    if newest is None:
        raise Http404
    said = last_readings(opened.job.leak_tests, newest)
    if request.method == "POST":
        return _corrected(request, opened, said)
    return form_page(request, opened, again(said, newest.id, new_token()), correcting=said)


def _corrected(request: HttpRequest, opened: Opened, said: LeakTest) -> HttpResponse:
    form = from_sent(request.POST)
    form.replaces = form.replaces or said.id
    sent = form_of(request)
    try:
        typed(form)  # before a tester is written down, so that a mistake leaves nothing behind
        form.tester = tester_of(form, queries.all_testers())
        outcome = record_leak_test(
            opened.job.number, typed(form), Form(sent.token, form.replaces, sent.repeat), who_works(request)
        )
    except Refused as refused:
        field = refused.field if isinstance(refused, BadEntry) else ""
        return form_page(request, opened, form, str(refused), field=field, correcting=said)
    if isinstance(outcome, Overtaken):
        theirs = outcome.theirs
        form.replaces, form.token = theirs.id, new_token()
        asked = TAKEN_BACK.format(theirs.note) if theirs.taken_back else CORRECTED.format(readings(theirs))
        return form_page(request, opened, form, asked, status=409, correcting=said)
    return redirect("leak_result", opened.job.number, outcome.fact.id)


@require_POST
def leak_taken_back(request: HttpRequest, number: str, test: str) -> HttpResponse:
    """The test does not count, for a reason."""
    opened, because = open_job_page(request, number), request.POST.get("because", "")
    try:
        outcome = take_back_leak_test(number, test, because, form_of(request), who_works(request))
    except Refused as refused:
        return result_page(request, opened, test, str(refused), because=because)
    if isinstance(outcome, Overtaken) and not outcome.theirs.taken_back:
        return result_page(request, opened, outcome.theirs.id, STANDS, because=because, status=409)
    fact = outcome.theirs if isinstance(outcome, Overtaken) else outcome.fact
    return redirect("leak_result", number, fact.id)
