"""Whatever a page is sent, it answers without an error of ours, and the job still opens."""

import random

import pytest
from django.test import Client

from gudgeon.records.models import LeakTest

TEXTS = (
    *(
        "",
        " ",
        "0",
        "-1",
        "1e309",
        "NaN",
        "１２",
        "12,5",
        "1.2.3",
        "7 kPa",
        "12 h",
        "0x10",
        "1/3",
        "+5 °C",
        "999999999999",
    ),
    *(
        "<script>",
        "';--",
        "a" * 400,
        "é" * 400,
        "line\r\nline",
        "yes",
        "no",
        "on",
        "agreed",
        "sure",
        "plain",
        "head",
    ),
    *(
        "watch",
        "none",
        "leak_down",
        "plug",
        "plug.wet",
        "turns",
        "turns.in_order",
        "wet",
        "kPa",
        "psi",
        "1",
        "2",
        "trail",
    ),
)
NAMES = (
    *(
        "found",
        "because",
        "how",
        "scope",
        "left",
        "reason",
        "symptom",
        "offered",
        "check",
        "token",
        "replaces",
        "n",
    ),
    *(
        "warm",
        "occasion",
        "supply",
        "pressure",
        "percent",
        "unit",
        "cylinder",
        "outlet-intake",
        "outlet-case",
        "note",
    ),
    *(
        "answer",
        "words",
        "day",
        "title",
        "customer",
        "engine",
        "engine_name",
        "meter",
        "meter_changed",
        "altitude",
    ),
    *(
        "was-title",
        "was-meter",
        "use",
        "runs",
        "turns",
        "debris",
        "tester",
        "tester_name",
        "restrictor",
        "text",
    ),
    *(
        "bench_hours",
        "flow-intake-volume",
        "flow-intake-time",
        "then",
        "arrival",
        "service",
        "band",
        "failure",
        "part",
    ),
    *(
        "zone",
        "paper",
        "units",
        "currency",
        "hours",
        "initials",
        "name",
        "tool",
        "step",
        "bar",
        "side",
        "thread",
    ),
    *("find", "comes_back_from", "sheet", "last_work", "condition", "light", "explain", "hand"),
)
OF_A_JOB = (
    *("", "as-booked/", "diagnosis/", "diagnosis/questions/", "diagnosis/symptoms/", "diagnosis/check/plug/"),
    *(
        "diagnosis/check/turns/",
        "diagnosis/check/plug/not-made/",
        "diagnosis/check/none/",
        "diagnosis/several/",
    ),
    *(
        "diagnosis/depth/",
        "diagnosis/report/",
        "diagnosis/report/keep/",
        "diagnosis/report/1/",
        "diagnosis/report/1/answer/",
    ),
    *("leak/", "close/", "facts/", "finding/", "not-possible/", "scope/", "rules/", "diagnosis/holding/"),
    *("diagnosis/compression/", "diagnosis/hours/", "bench/", "measure/", "decide/", "record/"),
)
OF_A_TEST = ("leak/{}/", "leak/{}/correct/", "leak/{}/taken-back/", "diagnosis/budget/{}/")
OF_THE_SHOP = ("/", "/book-in/", "/shop/", "/shop/device/", "/gauges/new/", "/gauges/tester/", "/people/")
ROUNDS = 120
STILL_OPEN = ("", "diagnosis/", "diagnosis/report/", "leak/", "as-booked/", "measure/", "decide/", "record/")


def sent(chance: random.Random) -> dict[str, list[str]]:
    """A form of anything."""
    names = chance.sample(NAMES, chance.randint(0, 12))
    return {name: [chance.choice(TEXTS) for _ in range(chance.randint(1, 3))] for name in names}


def addresses(*numbers: str) -> list[str]:
    tests = list(LeakTest.objects.order_by("pk").values_list("key", flat=True)[:3])
    pages = [*OF_A_JOB, *(page.format(test) for page in OF_A_TEST for test in tests)]
    return [*OF_THE_SHOP, *(f"/jobs/{number}/{page}" for number in numbers for page in pages)]


@pytest.mark.parametrize("seed", [1, 2])
def test_anything_sent_is_answered_and_the_job_still_opens(
    client: Client, example: str, number: str, seed: int
) -> None:
    chance, client.raise_request_exception = random.Random(seed), False
    known = addresses(example, number)
    for _ in range(ROUNDS):
        address, form = chance.choice(known), sent(chance)
        answer = client.post(address, form) if chance.random() < 0.75 else client.get(address, form)
        assert answer.status_code < 500, (address, form)
    for page in STILL_OPEN:
        for job in (example, number):
            assert client.get(f"/jobs/{job}/{page}").status_code == 200, page
