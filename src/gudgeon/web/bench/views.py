"""The bench page: one place at a time, for one thumb."""

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from gudgeon.records.news import newest_reading
from gudgeon.records.standing import open_jobs
from gudgeon.web.bench.carried import Start, carry
from gudgeon.web.bench.walk import at_of
from gudgeon.web.job.opened import open_job_page
from gudgeon.web.measure.asked import asked
from gudgeon.web.measure.views import Taken, around, by_script, mark_taken, pieces, take


def bench_jobs(request: HttpRequest) -> HttpResponse:
    """Which job is in hand; with one open job there is nothing to ask."""
    jobs = open_jobs()
    if len(jobs) == 1 and "all" not in request.GET:
        return redirect("bench", jobs[0].line.number)
    return render(request, "bench/jobs.html", {"jobs": jobs, "here": "start"})


def bench(request: HttpRequest, number: str) -> HttpResponse:
    """The next reading."""
    return _page(request, number, request.GET)


def _page(request: HttpRequest, number: str, query: QueryDict, taken: Taken | None = None) -> HttpResponse:
    since = newest_reading(number)
    opened = open_job_page(request, number)
    chosen = query.copy()
    at, just, after = (chosen.pop(name, [""])[-1] for name in ("at", "just", "after"))
    way = carry(opened, around(opened), asked(chosen), Start(at, just, after))
    in_hand = way.now
    if taken and in_hand:
        mark_taken(in_hand.place, taken, request.POST, opened)
    context = opened.context() | {
        "way": way,
        "sheet": way.sheet,
        "component": way.sheet.component if way.sheet else None,
        "query": chosen.urlencode(),
        "since": since,
        "send_to": reverse("bench_reading", args=[number]),
        "theirs_at": in_hand.address if in_hand else "",
        "here_at": request.get_full_path() if request.method == "GET" else reverse("bench", args=[number]),
    }
    return render(request, "bench/page.html", context, status=taken.status if taken else 200)


@require_POST
def bench_reading(request: HttpRequest, number: str) -> HttpResponse:
    """One reading taken at the bench page: its verdict, or without scripts the next place."""
    taken = take(request, number)
    if by_script(request):
        return pieces(request, number, request.POST, taken, send_to=request.path)
    sent = request.POST
    at = at_of((sent.get("characteristic", ""), sent.get("instance", ""), sent.get("position", "")))
    query = QueryDict(sent.get("query", ""), mutable=True)
    if not (taken.wrong or taken.overtaken):
        query["at" if "confirm" in sent else "just"] = at
        return redirect(f"{reverse('bench', args=[number])}?{query.urlencode()}")
    query["at"] = at
    return _page(request, number, query, taken)
