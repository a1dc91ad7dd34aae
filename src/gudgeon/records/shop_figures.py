"""The shop's own figures for a scope: what its finished jobs took, and what it reckons with."""

from collections import defaultdict
from collections.abc import Mapping
from functools import partial

import msgspec
from django.db.models import Exists, OuterRef, Q, QuerySet, Subquery
from django.db.models.functions import Length

from gudgeon.assess.diagnosis import AskShop, ShopFigures
from gudgeon.job.asked import BENCH_HOURS
from gudgeon.job.readings import Typed
from gudgeon.quantities import Refused
from gudgeon.records import models, queries
from gudgeon.records.services.typed import working_time

NEWEST = 1000  # finished jobs that are looked through, however many there are
MOST_JOBS = 30  # of one scope that make a figure: how the shop works now


def asks_shop(number: str, shop: models.Shop | None = None) -> AskShop:
    """Who a diagnosis of this job asks for the shop's figures; ``shop``, where it is at hand already."""
    return partial(shop_figures, but=number, shop=shop)


def shop_figures(scopes: tuple[str, ...], but: str = "", shop: models.Shop | None = None) -> ShopFigures:
    """What is known of exactly these scopes, the job ``but`` left out: two queries, however many jobs."""
    row = Subquery(models.Shop.objects.filter(pk=1).values("hours"))
    jobs = _finished(scopes).exclude(number=but).annotate(set=row).values_list("pk", "facts", "set")
    found = list(jobs[:MOST_JOBS])
    if not found:
        return ShopFigures(reckoned((shop or queries.shop()).hours))
    hours = tuple(hours for _, facts, _ in found if (hours := bench_hours(facts)) is not None)
    return ShopFigures(reckoned(found[0][2] or {}), hours, _replaced([job for job, _, _ in found]))


def reckoned(hours: Mapping[str, tuple[Typed, Typed]]) -> dict[str, tuple[float, float]]:
    """The hours set for each scope."""
    return {scope: (low.si / 3600, high.si / 3600) for scope, (low, high) in hours.items()}


def bench_hours(facts: Mapping[str, str]) -> float | None:
    """Hours at the bench; none where nothing, or nothing that can be read, was written down."""
    try:
        return working_time(BENCH_HOURS, facts[BENCH_HOURS]).si / 3600
    except (KeyError, Refused):
        return None


def _finished(scopes: tuple[str, ...]) -> QuerySet[models.Job]:
    """Of the newest finished jobs, those of exactly these scopes in whatever order, the newest first.

    All the names and as many letters: no other list of scopes has both.
    """
    closed = models.Job.objects.exclude(closed=None).order_by("-closed", "-id")
    letters = len(msgspec.json.encode(scopes).decode())
    named = Q(*(Q(scope__contains=f'"{scope}"') for scope in scopes))
    near = models.Job.objects.filter(pk__in=closed.values("pk")[:NEWEST]).alias(letters=Length("scope"))
    return near.filter(named, letters=letters).order_by("-closed", "-id")


def _replaced(jobs: list[int]) -> tuple[frozenset[str], ...]:
    """Of each job with decisions that stand, the parts that were replaced."""
    approved = models.Approval.objects.filter(job=OuterRef("job"), decision=OuterRef("key"))
    stands = models.Decision.objects.filter(job__in=jobs).filter(Q(apprentice=False) | Exists(approved))
    newest: dict[int, dict[tuple[str, str], str]] = defaultdict(dict)
    for job, part, instance, choice in stands.order_by("pk").values_list("job", "part", "instance", "choice"):
        newest[job][part, instance] = choice
    return tuple(
        frozenset(part for (part, _), choice in one.items() if choice == "replace") for one in newest.values()
    )
