"""Whatever a page is sent, it answers without an error of ours, and the job still opens."""

import random

import pytest
from django.test import Client

from gudgeon.records.models import LeakTest


def words(text: str) -> tuple[str, ...]:
    return tuple(text.split())


TEXTS = (
    *("", " ", "a" * 400, "é" * 400, "line\r\nline", "+5 °C", "7 kPa"),
    *words("0 -1 1e309 NaN １２ 12,5 1.2.3 0x10 1/3 999999999999 <script> ';-- yes no on agreed sure plain"),
    *words("head watch none leak_down plug plug.wet turns turns.in_order wet kPa psi 1 2 trail 12h 0.03"),
)
NAMES = words(
    """
    found because how scope left reason symptom offered check token replaces n warm occasion supply
    pressure percent unit cylinder outlet-intake outlet-case note answer words day title customer engine
    engine_name meter altitude meter_changed was-title was-meter use runs turns debris tester
    tester_name restrictor text bench_hours then part flow-intake-volume flow-intake-time arrival
    service band failure zone paper units currency hours initials name tool step bar side thread find
    comes_back_from sheet last_work condition light explain hand characteristic query instance position
    value goes does_not word turn instrument zeroing confirm at just after lower upper band_low
    band_high page against size part_temperature gauge_temperature choice group tick decision start here
    typed do caption about back job date correction expanded_uncertainty due repeat_sd blades file
    """
)
FITTING = {  # what may fit a name, so that more than the first refusal is reached
    "characteristic": ("bore_diameter", "valve_clearance_in", "oil_look", "cranking_compression", "squish"),
    "instance": ("1", "1.in.1", "2", "9"),
    "position": ("top/thrust", "level", "front"),
    "how": ("value", "bracket", "observation", "grade", "skip", "not_possible", "back"),
    "occasion": ("as_found", "assembled", "lunch"),
    "value": ("77.402", "0,12", "610 kPa"),
    "turn": ("1", "0", "two"),
    "warm": ("yes", "no"),
    "supply": ("690", "100 psi"),
    "pressure": ("610", "900"),
}
OF_A_JOB = words(
    """
    as-booked/ diagnosis/ diagnosis/questions/ diagnosis/symptoms/ diagnosis/check/plug/
    diagnosis/check/turns/ diagnosis/check/plug/not-made/ diagnosis/check/none/ diagnosis/several/
    diagnosis/depth/ diagnosis/report/ diagnosis/report/keep/ diagnosis/report/1/
    diagnosis/report/1/answer/ diagnosis/holding/ diagnosis/compression/ diagnosis/hours/ leak/ close/
    facts/ finding/ not-possible/ scope/ rules/ newer-sheet/ measure/ measure/cylinder/
    measure/valve-train/ measure/none/ bench/ bench/reading/ news/ place/ reading/ limit/ zeroing/
    slips/ decide/ decide/group/ decide/approve/ customer/ photographs/ photographs/none/ record/
    record/issue/ record/1/ record/9/again/ work-sheets/
    """
)
OF_A_TEST = words("leak/{}/ leak/{}/sheet/ leak/{}/correct/ leak/{}/taken-back/ diagnosis/budget/{}/")
OF_THE_SHOP = words(
    """
    / /book-in/ /bring-in/ /bench/ /shop/ /shop/device/ /gauges/ /gauges/new/ /gauges/tester/
    /gauges/none/ /people/ /people/working/ /people/left/ /sheets/ /sheets/new/ /sheets/none/edit/
    /sheets/bring/ /sums/ /sums/none/ /sums/thinner-gasket/ /sums/other-tester/ /sums/ring-gap/ /health/
    /phones/
    """
)
ROUNDS = 120
STILL_OPEN = ("", "diagnosis/", "diagnosis/report/", "leak/", "as-booked/", "measure/", "decide/", "record/")


def sent(chance: random.Random) -> dict[str, list[str]]:
    """A form of anything, some of it fitting."""
    names = [*chance.sample(NAMES, chance.randint(0, 12)), *chance.sample([*FITTING], chance.randint(0, 6))]
    return {name: [_text(chance, name) for _ in range(chance.randint(1, 2))] for name in names}


def _text(chance: random.Random, name: str) -> str:
    fits = FITTING.get(name)
    return chance.choice(fits if fits and chance.random() < 0.8 else TEXTS)


def addresses(*numbers: str) -> list[str]:
    """Every page of the shop, and of these jobs with a few of their tests."""
    tests = LeakTest.objects.order_by("pk").values_list("key", flat=True)[:3]
    pages = ["", *OF_A_JOB, *(page.format(test) for page in OF_A_TEST for test in tests)]
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
