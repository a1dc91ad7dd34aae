"""The condition report: as it would read now, kept with a number, and what the owner said to it."""

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

import msgspec
from django.db import IntegrityError, transaction

from gudgeon.assess import Assessment, assess
from gudgeon.assess.diagnosis import Diagnosis, diagnose
from gudgeon.assess.diagnosis.chosen import differs
from gudgeon.catalog import catalog
from gudgeon.job import Job
from gudgeon.job.asked import SCOPE_LEFT, SCOPE_REASON
from gudgeon.records import models, queries, shapes
from gudgeon.records.lists import REPORT
from gudgeon.records.services.asked import LEFT
from gudgeon.records.services.entry import LONGEST_TOKEN, BadEntry, Form, Who, entry_key, now, took_part
from gudgeon.records.services.job import today
from gudgeon.records.services.photograph import pictures_here
from gudgeon.records.services.record import Issued, issue, paper_size
from gudgeon.records.shop_figures import asks_shop
from gudgeon.report import Content, condition_content
from gudgeon.report.phrases import day

DRAFT = 0  # the revision of a paper that is not kept
LONGEST_WORDS = 1000
ANSWERS = {
    "agreed": "Owner agreed",
    "less": "Owner asked for less",
    "no": "Owner did not agree",
}


def report_now(job: Job, assessment: Assessment, shop: models.Shop, revision: int = DRAFT) -> Content:
    """What the report says as everything stands; ``assessment`` in the shop's units."""
    found = diagnose(job, shop.units, assessment, asks_shop(job.number, shop))
    return condition_content(
        job,
        found,
        assessment.leaks,
        issued_at=shapes.stamp(now()),
        revision=revision,
        paper=paper_size(shop),
        chosen=chosen_instead(job, found),
        reason=job.facts.get(SCOPE_REASON, ""),
        pictures=pictures_here(job.photographs),
    )


def chosen_instead(job: Job, found: Diagnosis) -> tuple[str, ...]:
    """What the builder chose, where it is not what is proposed."""
    left = job.facts.get(SCOPE_LEFT, "")
    if not (job.scope or left) or not differs(found, job.scope, left):
        return ()
    return (LEFT[left],) if left in LEFT else tuple(catalog().scopes[one].words for one in job.scope)


def keep_report(number: str, who: Who) -> Issued:
    """Freeze the report as the next one of its job; the PDF follows."""

    def made(revision: int) -> Content:
        job, shop = queries.load_job(number), queries.shop()
        return report_now(job, assess(job, shop.units), shop, revision)

    return issue(number, REPORT, who, made)


def kept_report(number: str, revision: int) -> models.IssuedRecord | None:
    """One kept report; none when there is no such number."""
    rows = models.IssuedRecord.objects.filter(job__number=number, kind=REPORT, revision=revision)
    return rows.select_related("job").first()


def newest_report(number: str) -> models.IssuedRecord | None:
    """The report kept last."""
    rows = models.IssuedRecord.objects.filter(job__number=number, kind=REPORT)
    return rows.order_by("-revision").first()


@dataclass(frozen=True, slots=True)
class Said:
    """What the owner said to a kept report, in words."""

    says: str
    day: str
    words: str
    at: datetime
    by: str


def answers_to(row: models.IssuedRecord) -> tuple[Said, ...]:
    """Every answer to a kept report, the newest first."""
    return tuple(
        Said(
            ANSWERS.get(one.answer, one.answer),
            day(one.given.isoformat()),
            one.words,
            one.at,
            one.by_id or "",
        )
        for one in row.answers.order_by("-pk")
    )


@dataclass(frozen=True, slots=True)
class AnswerTyped:
    """The owner's answer as it was typed; ``given`` is a day, year-month-day, today when empty."""

    answer: str
    given: str = ""
    words: str = ""


class Answer(msgspec.Struct, frozen=True):
    """The owner's answer to one report."""

    report: int
    answer: str
    given: date
    words: str


def write_answer(number: str, revision: int, typed: AnswerTyped, token: str, who: Who) -> bool:
    """Append what the owner said; false when the same post had come before."""
    row = kept_report(number, revision)
    if row is None:
        raise queries.NoSuch("condition report", str(revision))
    if not token or len(token) > LONGEST_TOKEN:
        raise BadEntry(
            "This form has lost its own mark; open the page again and answer once more.", "token", ""
        )
    said = Answer(revision, _answer(typed.answer), _given(typed.given, row.at), _words(typed))
    key = entry_key(number, Form(token), said)
    took_part(row.job, who.by)
    try:
        with transaction.atomic():
            models.OwnerAnswer(
                report=row,
                key=key,
                answer=said.answer,
                given=said.given,
                words=said.words,
                at=now(),
                by_id=who.by,
                device=who.device,
            ).save()
    except IntegrityError:
        if not row.answers.filter(key=key).exists():
            raise
        return False
    return True


def _answer(answer: str) -> str:
    if answer not in ANSWERS:
        raise BadEntry("Tick what the owner said: agreed, wants less, or did not agree.", "answer", answer)
    return answer


def _given(text: str, kept: datetime) -> date:
    try:
        given = date.fromisoformat(text.strip()) if text.strip() else today()
    except ValueError:
        raise BadEntry(
            f"“{text.strip()[:40]}” is not a day; write year-month-day: 2026-03-14.", "given", text
        ) from None
    if given > today():
        raise BadEntry("That day has not come yet: write the day the owner answered.", "given", text)
    if given < kept.astimezone(ZoneInfo(queries.shop().zone)).date():
        raise BadEntry("That day is before the report was kept: what was answered then?", "given", text)
    return given


def _words(typed: AnswerTyped) -> str:
    words = typed.words.strip()
    if len(words) > LONGEST_WORDS:
        raise BadEntry(
            f"Say it in {LONGEST_WORDS} letters or fewer; this has {len(words)}.", "words", typed.words
        )
    if typed.answer == "less" and not words:
        raise BadEntry("Write what the owner wants left out.", "words", typed.words)
    return words
