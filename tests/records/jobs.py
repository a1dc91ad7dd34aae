"""A job of an invented shop, with one of everything that the tables keep."""

from gudgeon.catalog import Layout
from gudgeon.datasheet import DataSheet, LimitRow
from gudgeon.job.instruments import Check, Instrument, Tester, Zeroing
from gudgeon.job.objects import Decision, Engine, Finding, Job, Part, Person, Snapshot, Visit
from gudgeon.job.photographs import Photograph
from gudgeon.job.readings import Reading, Typed
from gudgeon.job.tests import LeakReading, LeakTest
from gudgeon.quantities import parse


def typed(text: str, kind: str, unit: str) -> Typed:
    """A quantity as the bench types it."""
    read = parse(text, kind, unit=unit, signed=True)
    return Typed(read.text, read.unit, read.si)


SHEET = DataSheet(
    key="kestrel-349",
    name="Kestrel 349",
    invented=True,
    layout=Layout(
        fields={"cooling": "liquid", "valve_train": "bucket_shim", "bore": "plated"}, counts={"cylinders": 1}
    ),
    limits={
        "bore_diameter": (
            LimitRow(service_max="79.04 mm", band_low="79.00 mm", band_high="79.012 mm", page="4-12"),
        )
    },
)

MICROMETER = Instrument(
    key="mic-75-100",
    name="Micrometer 75 to 100 mm",
    tool="micrometer",
    step="0.01 mm",
    checks=(
        Check(date="2026-01-10", correction="0.002 mm", expanded_uncertainty="0.004 mm", due="2027-01-10"),
        Check(
            date="2026-06-10", correction="-0.001 mm", expanded_uncertainty="0.004 mm", by="the town's lab"
        ),
    ),
)
BORE_GAUGE = Instrument(
    key="bore-gauge", name="Bore gauge", tool="bore_gauge", step="0.001 mm", repeat_sd="0.0015 mm"
)
FEELERS = Instrument(
    key="feelers", name="Feelers", tool="feeler", step="0.01 mm", blades=("0.05 mm", "0.1 mm", "0.13 mm")
)


def reading(number: int, position: str, text: str, **more: object) -> Reading:
    """A reading of the bore."""
    base: dict[str, object] = {
        "id": f"r{number}",
        "characteristic": "bore_diameter",
        "instance": "1",
        "position": position,
        "how": "value",
        "value": typed(text, "length", "mm"),
        "instrument": "bore-gauge",
        "zeroing": "zero-1",
        "by": "MK",
        "at": f"2026-03-14T09:{number:02d}:00Z",
        "device": "phone",
    }
    return Reading(**{**base, **more})  # type: ignore[arg-type]  # the tests' own short way of writing


def a_job(number: str = "17") -> Job:
    """One job, whole."""
    return Job(
        number=number,
        title="Loses oil, hard to start",
        customer="A. Fellow",
        words="It smokes when it is cold.",
        arrival="runs_badly",
        opened="2026-03-12",
        stage="measure",
        facts={"turns": "yes", "runs": "yes"},
        not_possible={"cranking_pressure": "the starter is not here"},
        scope=("top_end",),
        disturbed=("head_gasket",),
        altitude=typed("420", "length", "m"),
        rules={"condemning": "plain"},
        engine=Engine(
            key="kestrel-one",
            name="The green Kestrel",
            number="0042",
            use="race",
            visits=(Visit(date="2026-03-12", meter=typed("112.5", "time", "h")),),
        ),
        sheet=SHEET,
        people=(Person("MK", "Mara Kern"), Person("JO", "Jo Ott")),
        instruments=(BORE_GAUGE, MICROMETER, FEELERS),
        testers=(Tester(key="tester", name="The shop's tester", restrictor="1.0 mm", gauge_step="10 kPa"),),
        zeroings=(
            Zeroing(
                key="zero-1",
                instrument="bore-gauge",
                against="mic-75-100",
                at="2026-03-14T09:00:00Z",
                size="79.00 mm",
                half_width="0.002 mm",
            ),
        ),
        parts=(
            Part(id="cyl", part="cylinder", instance="1", fitted_hours=0.0),
            Part(id="pst", part="piston", instance="1", origin="used", fitted_hours=60.25, note="marked F"),
        ),
        leak_tests=(
            LeakTest(
                id="l1",
                warm=True,
                tester="tester",
                readings=(
                    LeakReading(
                        supply=typed("600", "pressure", "kPa"), cylinder=typed("512", "pressure", "kPa")
                    ),
                    LeakReading(
                        supply=typed("600", "pressure", "kPa"), cylinder=typed("5,1", "pressure", "bar")
                    ),
                ),
                outlets={"intake": "none", "exhaust": "clear"},
                ambient_pressure=typed("96.3", "pressure", "kPa"),
                by="JO",
                at="2026-03-13T15:00:00Z",
                device="laptop",
            ),
        ),
        readings=(
            reading(4, "top/thrust", "79,021", replaces="r2", note="read again"),
            reading(1, "top/thrust", "79.020", part="cyl"),
            reading(2, "top/thrust", "790.20"),
            reading(3, "top/pin", "3 1/9 in", slip_confirmed=True),
        ),
        findings=(
            Finding(
                id="f1", text="Scored on the thrust side", part="pst", by="MK", at="2026-03-14T10:00:00Z"
            ),
        ),
        decisions=(
            Decision(
                id="d1",
                part="piston",
                instance="1",
                choice="replace",
                by="MK",
                at="2026-03-14T11:00:00Z",
                snapshot=Snapshot(
                    proposal="replace", sentences=("Worn.",), sheet_hash="0" * 64, program="Gudgeon 0"
                ),
            ),
            Decision(
                id="d2",
                part="piston",
                instance="1",
                choice="measure_again",
                reason="not sure about the gauge",
                by="JO",
                at="2026-03-14T12:00:00Z",
                snapshot=Snapshot(
                    proposal="replace", sentences=("Worn.",), sheet_hash="0" * 64, program="Gudgeon 0"
                ),
                replaces="d1",
            ),
        ),
        photographs=(
            Photograph(
                id="p1",
                sha256="1" * 64,
                screen="2" * 64,
                thumbnail="3" * 64,
                width=3024,
                height=4032,
                taken="2026-03-14T10:02:11",
                part="piston",
                instance="1",
                finding="f1",
                by="MK",
                at="2026-03-14T10:05:00Z",
                device="phone",
            ),
            Photograph(
                id="p2",
                sha256="1" * 64,
                screen="2" * 64,
                thumbnail="3" * 64,
                width=3024,
                height=4032,
                taken="2026-03-14T10:02:11",
                caption="Scored from the ring land down",
                place=3,
                part="piston",
                instance="1",
                finding="f1",
                by="JO",
                at="2026-03-14T10:07:00Z",
                replaces="p1",
            ),
        ),
    )
