"""What an opening takes: hours from the shop's own figures only, and sorts of parts as a range."""

from pathlib import Path

import msgspec
import pytest

from gudgeon.assess.bench import Bench
from gudgeon.assess.diagnosis import ShopFigures, diagnose
from gudgeon.assess.diagnosis.results import CauseStanding, Family, Standing, Takes
from gudgeon.assess.diagnosis.worth import parts_range, usual
from gudgeon.catalog import catalog
from gudgeon.job import Job
from gudgeon.job.asked import SCOPE_LEFT
from gudgeon.job.file import read_job_file

JOBS = Path(__file__).resolve().parents[2] / "examples" / "jobs"


@pytest.fixture(scope="module")
def smoker() -> Job:
    """The example with a proved bore; a top end is proposed."""
    return msgspec.structs.replace(read_job_file(JOBS / "billhook-half-way.json"), scope=())


def taken(job: Job, shop: ShopFigures | None = None) -> Takes:
    return diagnose(job, shop=(lambda _: shop) if shop else None).scope.takes


def family(takes: Takes, name: str) -> Family:
    return next(one for one in takes.families if one.name == name)


def cause(key: str, standing: Standing = "likely", proved: bool = False) -> CauseStanding:
    row = catalog().reasoning.causes[key]
    return CauseStanding(
        key,
        row.words,
        standing,
        proved,
        "",
        (),
        (),
        row.scope,
        row.parts,
        (),
        (),
        "",
    )


def test_without_figures_no_hours_are_said_and_where_they_come_from_is(smoker: Job) -> None:
    found = taken(smoker)
    assert found.hours == ("We have no figures of our own yet for the hours this takes (top end).",)
    assert "3 jobs of just this (top end) make a figure." in found.missing
    two = taken(smoker, ShopFigures(hours=(6.0, 7.0)))
    assert two.hours == found.hours
    assert "so far there are 2" in two.missing


@pytest.mark.parametrize(
    ("hours", "wanted"),
    [
        ((), None),
        ((6.0, 9.5), None),
        ((7.0, 6.0, 9.5), (6.0, 9.5, False)),
        ((1.0, 6.0, 6.5, 7.0, 7.5, 8.0, 40.0), (1.0, 40.0, False)),
        (tuple(float(n) for n in range(1, 12)), (2.0, 10.0, True)),
    ],
)
def test_hours_are_the_whole_span_of_few_jobs_and_the_middle_eight_tenths_of_many(
    hours: tuple[float, ...], wanted: tuple[float, float, bool] | None
) -> None:
    assert usual(hours) == (pytest.approx(wanted) if wanted else None)


def test_the_sentence_says_which_jobs_and_how_many(smoker: Job) -> None:
    few = taken(smoker, ShopFigures(hours=(6.5, 9.0, 7.25)))
    many = taken(smoker, ShopFigures(hours=tuple(float(n) for n in range(1, 12))))
    assert few.hours == (
        "6.5 to 9 hours at the bench: the shortest to the longest, of our last 3 jobs of just this "
        "(top end).",
    )
    assert many.hours[0].startswith(
        "2 to 10 hours at the bench: the middle eight tenths of them, of our last 11"
    )
    assert not few.missing


def test_what_the_shop_reckons_stands_alone_at_first_and_beside_the_jobs_later(smoker: Job) -> None:
    reckoned = {"top_end": (6.0, 8.0), "head": (5.0, 6.0)}
    early = taken(smoker, ShopFigures(reckoned, hours=(9.0, 9.0)))
    late = taken(smoker, ShopFigures(reckoned, hours=(9.0, 9.0, 9.0)))
    assert early.hours == ("We reckon with 6 to 8 hours (top end).",)
    assert late.hours[0].startswith("9 hours at the bench")
    assert late.hours[1:] == early.hours


def test_several_scopes_are_reckoned_one_by_one_and_never_added_up(smoker: Job) -> None:
    both = msgspec.structs.replace(smoker, scope=("top_end", "head"))
    found = taken(both, ShopFigures({"top_end": (6.0, 8.0)}))
    assert found.hours == (
        "We reckon with 6 to 8 hours (top end, done by itself).",
        "For head we have no figure. In one opening they take less than one after the other.",
    )


def test_the_shop_is_asked_once_for_what_is_chosen_else_proposed(smoker: Job) -> None:
    asked: list[tuple[str, ...]] = []

    def ask(scopes: tuple[str, ...]) -> ShopFigures:
        asked.append(scopes)
        return ShopFigures()

    diagnose(smoker, shop=ask)
    diagnose(msgspec.structs.replace(smoker, scope=("bottom_end",)), shop=ask)
    closed = msgspec.structs.replace(smoker, facts={**smoker.facts, SCOPE_LEFT: "watch"})
    left = diagnose(closed, shop=ask).scope
    assert asked == [("top_end",), ("bottom_end",)]
    assert left.takes == Takes()
    assert any("test again by hours" in line for line in left.worth)


def test_what_comes_off_is_surely_new_and_what_is_proved_goes(smoker: Job) -> None:
    found = taken(smoker)
    assert "head gasket" in family(found, "Gaskets and seals").surely
    assert "cam cover gasket and plug-tube seals" in family(found, "Gaskets and seals").surely
    assert family(found, "Cylinder").surely == ("cylinder, new or reworked",)
    assert family(found, "Crank, rod and balancer").how == "perhaps"
    assert all("centre-case" not in one.sentence for one in found.families)


def test_a_deeper_opening_never_takes_less(smoker: Job) -> None:
    bench = Bench(smoker)
    least, most = parts_range(bench, ("head",), ())
    deep_least, deep_most = parts_range(bench, ("head", "bottom_end"), ())
    assert least <= deep_least
    assert not least & most
    assert not deep_least & deep_most
    assert {"crank_seals", "case_gasket"} <= deep_least - least
    assert "gearbox_bearings" in deep_most


@pytest.mark.parametrize(
    ("one", "in_least", "in_most"),
    [
        (cause("cam_chain", proved=True), {"cam_chain"}, {"cam_guides", "cam_tensioner"}),
        (cause("cam_chain"), set(), {"cam_chain", "cam_guides"}),
        (cause("cam_chain", "possible"), set(), {"cam_chain"}),
        (cause("cam_chain", "ruled_out"), set(), set()),
        (cause("gearbox", proved=True), set(), set()),
        (cause("fuel", proved=True), set(), set()),
    ],
)
def test_only_causes_within_the_opening_ask_for_parts(
    smoker: Job, one: CauseStanding, in_least: set[str], in_most: set[str]
) -> None:
    bench = Bench(smoker)
    plain_least, plain_most = parts_range(bench, ("cam_drive",), ())
    least, most = parts_range(bench, ("cam_drive",), (one,))
    assert in_least == least - plain_least
    assert in_most <= most
    if not in_most:
        assert most == plain_most


def test_earlier_jobs_count_for_what_is_not_new_anyway(smoker: Job) -> None:
    jobs = (frozenset({"piston", "head_gasket"}), frozenset({"clutch_hub"}), frozenset[str]())
    found = taken(smoker, ShopFigures(replaced=jobs))
    assert found.jobs == 3
    assert family(found, "Piston, rings and pin").before == "1\u00a0of\u00a03"
    assert family(found, "Piston, rings and pin").sentence.endswith("was new in 1\u00a0of\u00a03 jobs.")
    assert not family(found, "Gaskets and seals").before
    assert family(found, "Clutch and primary drive").how == "not expected"
    few = taken(smoker, ShopFigures(replaced=jobs[:2]))
    assert not few.jobs
    assert not any(one.before for one in few.families)


@pytest.mark.parametrize("name", ["billhook-half-way", "whinmoor-complete", "tussock-seized"])
def test_every_line_reads_as_a_sentence_without_money_or_machine_words(name: str) -> None:
    scope = diagnose(read_job_file(JOBS / f"{name}.json")).scope
    for line in (*scope.takes.hours, scope.takes.missing, *(one.sentence for one in scope.takes.families)):
        assert line.endswith(".")
        assert "_" not in line
        assert not {"EUR", "€", "$", "cost", "price"} & set(line.split())
