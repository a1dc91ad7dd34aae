"""A job hangs together: names have bearers, corrections do not fork, numbers are as typed."""

import msgspec
import pytest
from tests.assess.scenes import gap, job, leak, read, typed

from gudgeon.datasheet import DataSheet
from gudgeon.job import Decision, Engine, Finding, Instrument, Job, Part, Snapshot, Visit, Zeroing
from gudgeon.job import Tester as LeakTester
from gudgeon.job.checks import faults
from gudgeon.job.readings import Typed

PLACE = "bore_diameter 1 top/thrust"


def only(one: Job) -> str:
    found = faults(one)
    assert len(found) == 1, found
    return found[0]


def test_a_sound_job_has_no_fault() -> None:
    assert faults(job(read(PLACE, "77.430", id="a"), read(PLACE, "77.431", id="b", replaces="a"))) == ()


@pytest.mark.parametrize(
    ("one", "says"),
    [
        (job(read(PLACE, "77.4", id="a"), read(PLACE, "77.5", id="a")), "The reading “a” stands 2 times"),
        (job(read(PLACE, "77.4", replaces="x")), "A reading corrects “x”, which is not in this job."),
        (
            job(*(read(PLACE, "77.4", id=key, replaces="a" if key != "a" else None) for key in "abc")),
            "The reading “a” is corrected 2 times; once is allowed.",
        ),
        (
            job(read(PLACE, "77.4", id="a"), read("squish 1 front", "1.0", id="b", replaces="a")),
            "The reading “b” corrects one of bore_diameter, another thing.",
        ),
        (
            job(read("bore_width 1", "77.4", id="a")),
            "The reading “a” is of “bore_width”, which is not known here.",
        ),
        (job(read("bore_diameter 2 top/thrust", "77.4", id="a")), "has the place “2”; allowed: 1."),
        (job(read("bore_diameter 1 lid", "77.4", id="a")), "has the position “lid”; allowed: top/thrust"),
        (job(read(PLACE, "77.4", instrument="lost")), "names the gauge “lost”, which is not in this job."),
        (job(read(PLACE, "77.4", part="p9")), "names the part “p9”, which is not in this job."),
        (job(read(PLACE, how="observation", word="worn")), "bore diameter is read as a number"),
        (job(read("plating_defects 1 wall", how="observation", word="odd")), "says “odd”; allowed: none"),
        (job(gap("valve_clearance_in 1.in.1", "0.15", "0.10")), "a blade that goes as thick as the one"),
        (job(read(PLACE, "12", "kPa", id="a")), "is a pressure (12 kPa); bore diameter is a length."),
        (job(read(PLACE, "-77.4", id="a")), "is below nought (-77.4 mm); it cannot be."),
        (
            job(read(PLACE, "77.4", part_temperature=typed("200", "°C"))),
            "was taken at 200 °C; a size is measured between -30 and 60 °C.",
        ),
        (job(leak_tests=(leak("600", tester="t9"),)), "names the tester “t9”, which is not in this job."),
        (job(leak_tests=(leak("600", cylinder="3"),)), "is of cylinder “3”, which this engine has not."),
        (job(leak_tests=(leak(),)), "holds no reading; at least one is needed."),
        (
            job(leak_tests=(leak("600", id="a"), leak(id="b", replaces="a"))),
            "The leak-down test “a” is taken back without a reason.",
        ),
        (job(disturbed=("sump_guard",)), "names a part “sump_guard”, which no part is called."),
        (job(parts=(Part(id="p", part="piston_hat", instance="1"),)), "names a part “piston_hat”"),
        (
            job(
                zeroings=(Zeroing(key="z1", instrument="bore", against="part:p7", at="2031-03-04T09:00:00Z"),)
            ),
            "was made on the part “p7”, which is not in this job.",
        ),
        (
            job(
                findings=(Finding(id="f", text="x", failure="gremlins", by="MK", at="2031-03-04T09:00:00Z"),)
            ),
            "names the failure “gremlins”",
        ),
        (
            job(
                decisions=(
                    Decision(
                        id="d",
                        part="piston",
                        instance="1",
                        choice="reuse",
                        by="QQ",
                        at="2031-03-04T09:00:00Z",
                        snapshot=Snapshot(proposal="reuse", sentences=(), sheet_hash="", program=""),
                    ),
                )
            ),
            "“QQ” took part in this job but is not among its people.",
        ),
    ],
)
def test_what_does_not_fit_is_named(one: Job, says: str) -> None:
    assert says in only(one)


def test_corrections_in_a_circle_are_seen() -> None:
    ring = job(read(PLACE, "77.4", id="a", replaces="b"), read(PLACE, "77.5", id="b", replaces="a"))
    assert all("roundabout way" in fault for fault in faults(ring))
    assert len(faults(ring)) == 2


@pytest.mark.parametrize("other", [Typed("77.430", "mm", 0.0774), Typed("77.430", "furlong", 0.07743)])
def test_a_number_altered_by_hand_parts_company_with_its_text(other: Typed) -> None:
    good = read(PLACE, "77.430", id="a")
    said = only(job(msgspec.structs.replace(good, value=other)))
    assert "another value stands beside it" in said or "no unit this program knows" in said


def test_a_comma_a_point_and_inches_are_all_as_typed() -> None:
    texts = [("77,430", "mm"), ("77.430", "mm"), ("3.0484", "in")]
    readings = [read(PLACE, text, unit, id=text) for text, unit in texts]
    assert faults(job(*readings)) == ()
    assert typed("3.0484", "in").si == 3.0484 * 0.0254


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"opened": "soon"}, "The job was opened on “soon”, which is no day"),
        ({"closed": "2031-02-30"}, "The job was closed on “2031-02-30”, which is no day"),
        ({"altitude": typed("3", "h")}, "The height above the sea is a time (3 h); a length is wanted."),
        ({"not_possible": {" ": "no reason"}}, "A check that was not possible has no name."),
        (
            {"engine": Engine(key="e", name="E", visits=(Visit(date="2031-01-01", meter=typed("3", "mm")),))},
            "The hour meter of 2031-01-01 is a length (3 mm); a time is wanted.",
        ),
        (
            {"testers": (LeakTester(key="t", name="T", restrictor="wide"),)},
            "The leak-down tester “t” cannot be read: “wide” is not a number",
        ),
        (
            {"zeroings": (Zeroing(key="z", instrument="bore", against="mic", at="", half_width="little"),)},
            "The zeroing “z” cannot be read: “little” is not a number",
        ),
        (
            {"sheet": DataSheet(key="s", name="S", invented=True, geometry={"bore": "wide"})},
            "Its data sheet, ",
        ),
        (
            {
                "instruments": (
                    Instrument(key="g", name="G", tool="micrometer", step="0.01 mm", repeat_dof=0.0),
                )
            },
            "The gauge “g” has 0 degrees of freedom; allowed: 1 and more.",
        ),
    ],
)
def test_what_cannot_be_worked_with_is_named(changed: dict[str, object], says: str) -> None:
    found = faults(msgspec.structs.replace(job(), **changed))
    assert any(fault.startswith(says) for fault in found), found


def test_a_time_that_is_none_is_named() -> None:
    assert "was written down at “noon”, which is no time" in only(job(read(PLACE, "77.4", id="a", at="noon")))
