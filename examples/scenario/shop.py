"""The invented shop: its people, its gauges with their checks, its leak-down testers."""

from examples.scenario.notebook import Gauge

from gudgeon.job.instruments import Check, Instrument, Tester
from gudgeon.job.objects import Person

PEOPLE = (Person("MH", "Merrin Hale"), Person("TA", "Tam Ashdown"))

BLADES = (
    tuple(
        f"{hundredths / 100:.2f} mm"
        for hundredths in (
            3,
            4,
            5,
            6,
            7,
            8,
            9,
            10,
            11,
            12,
            13,
            14,
            15,
            16,
            17,
            18,
            19,
            20,
            21,
            22,
            23,
            24,
            25,
            26,
        )
    )
    + tuple(f"{hundredths / 100:.2f} mm" for hundredths in range(28, 42, 2))
    + tuple(f"{hundredths / 100:.2f} mm" for hundredths in range(45, 105, 5))
)
WIRES = tuple(f"{hundredths / 100:.2f} mm" for hundredths in range(60, 145, 5))


def _check(correction: str, uncertainty: str, date: str = "2026-01-12", due: str = "2027-01-12") -> Check:
    return Check(
        date=date,
        correction=correction,
        expanded_uncertainty=uncertainty,
        due=due,
        by="own setting standards",
    )


def _gauge(
    key: str, name: str, tool: str, step: str, spread: str, *checks: Check, dof: float = 12
) -> Instrument:
    return Instrument(
        key=key, name=name, tool=tool, step=step, repeat_sd=spread, repeat_dof=dof, checks=checks
    )


INSTRUMENTS = (
    _gauge(
        "mic-75-100",
        "Micrometer 75 to 100 mm",
        "micrometer",
        "0.001 mm",
        "0.0012 mm",
        _check("0.000 mm", "0.003 mm", "2025-01-20", "2026-01-20"),
        _check("0.001 mm", "0.002 mm"),
    ),
    _gauge(
        "mic-50-75",
        "Micrometer 50 to 75 mm",
        "micrometer",
        "0.001 mm",
        "0.0012 mm",
        _check("0 mm", "0.002 mm"),
    ),
    _gauge(
        "mic-25-50",
        "Micrometer 25 to 50 mm",
        "micrometer",
        "0.001 mm",
        "0.0010 mm",
        _check("0 mm", "0.002 mm"),
    ),
    _gauge(
        "mic-0-25",
        "Micrometer 0 to 25 mm",
        "micrometer",
        "0.001 mm",
        "0.0010 mm",
        _check("-0.001 mm", "0.0016 mm"),
    ),
    _gauge(
        "bore-gauge",
        "Bore gauge 50 to 150 mm",
        "bore_gauge",
        "0.001 mm",
        "0.0014 mm",
        _check("0 mm", "0.002 mm"),
    ),
    _gauge(
        "bore-mic",
        "Three-point bore micrometer 12 to 30 mm",
        "bore_micrometer",
        "0.001 mm",
        "0.0012 mm",
        _check("0 mm", "0.003 mm"),
    ),
    _gauge(
        "small-hole",
        "Small-hole gauges",
        "small_hole_gauge",
        "0.001 mm",
        "0.0020 mm",
        _check("0 mm", "0.004 mm"),
    ),
    Instrument(
        key="feeler",
        name="Feeler gauges",
        tool="feeler",
        step="0.01 mm",
        repeat_sd="0.003 mm",
        repeat_dof=8,
        blades=BLADES,
        checks=(_check("0 mm", "0.004 mm"),),
    ),
    Instrument(
        key="wires",
        name="Plug gap wires",
        tool="wire_gauge",
        step="0.05 mm",
        repeat_sd="0.01 mm",
        blades=WIRES,
        checks=(_check("0 mm", "0.01 mm"),),
    ),
    _gauge(
        "caliper",
        "Caliper 150 mm",
        "caliper",
        "0.02 mm",
        "0.02 mm",
        _check("0 mm", "0.04 mm", "2024-11-28", "2025-11-28"),
    ),
    _gauge("caliper-new", "Caliper 150 mm, new", "caliper", "0.02 mm", "0.02 mm", _check("0 mm", "0.04 mm")),
    _gauge("depth", "Depth gauge", "depth_gauge", "0.02 mm", "0.02 mm", _check("0 mm", "0.04 mm")),
    _gauge(
        "dial", "Dial indicator 10 mm", "dial_indicator", "0.01 mm", "0.004 mm", _check("0 mm", "0.010 mm")
    ),
    _gauge("lever", "Lever indicator", "dial_indicator", "0.002 mm", "0.0015 mm", _check("0 mm", "0.004 mm")),
    _gauge(
        "seat-gauge", "Seat runout gauge", "seat_gauge", "0.005 mm", "0.003 mm", _check("0 mm", "0.006 mm")
    ),
    _gauge("spring-tester", "Spring tester", "spring_tester", "1 N", "1.5 N", _check("2 N", "4 N")),
    _gauge("scale", "Scale 500 g", "scale", "0.1 g", "0.1 g", _check("0 g", "0.2 g")),
    _gauge(
        "compression", "Compression gauge", "compression_gauge", "10 kPa", "15 kPa", _check("0 kPa", "30 kPa")
    ),
    _gauge("cap-tester", "Cap tester", "cap_tester", "2 kPa", "2 kPa", _check("0 kPa", "5 kPa")),
    _gauge(
        "oil-gauge", "Oil pressure gauge", "oil_pressure_gauge", "10 kPa", "8 kPa", _check("0 kPa", "20 kPa")
    ),
    _gauge("fuel-gauge", "Fuel pressure gauge", "fuel_gauge", "5 kPa", "3 kPa", _check("0 kPa", "10 kPa")),
    _gauge("vacuum", "Vacuum tester", "vacuum_tester", "2 kPa", "2 kPa", _check("0 kPa", "4 kPa")),
    _gauge("beam", "Beam torque wrench", "beam_torque", "0.5 N·m", "0.3 N·m", _check("0 N·m", "0.6 N·m")),
    Instrument(
        key="ohms", name="Multimeter, resistance", tool="multimeter", step="0.01 Ω", repeat_sd="0.01 Ω"
    ),
    Instrument(key="volts", name="Multimeter, voltage", tool="multimeter", step="0.1 V", repeat_sd="0.05 V"),
    _gauge("jug", "Measuring jug 2 L", "measuring_jug", "10 ml", "6 ml", _check("0 ml", "20 ml")),
    Instrument(key="timer", name="Bench clock", tool="test_solvent", step="0.5 min", repeat_sd="0.3 min"),
    _gauge("wheel", "Degree wheel", "degree_wheel", "0.5 deg", "0.5 deg", _check("0 deg", "1 deg")),
    _gauge("burette", "Burette 100 ml", "burette", "0.1 cm³", "0.1 cm³", _check("0 cm³", "0.2 cm³")),
    Instrument(
        key="barometer", name="Weather station", tool="barometer", step="0.1 kPa", repeat_sd="0.1 kPa"
    ),
    Instrument(
        key="thermometer", name="Contact thermometer", tool="thermometer", step="1 °C", repeat_sd="0.5 °C"
    ),
    Instrument(key="rule", name="Steel rule", tool="rule", step="1 mm", repeat_sd="0.5 mm"),
    Instrument(key="tacho", name="Tachometer", tool="tachometer", step="10 rpm", repeat_sd="10 rpm"),
)

MIC_75 = Gauge("mic-75-100", 0.001, 0.0010, error=-0.0012)
MIC_50 = Gauge("mic-50-75", 0.001, 0.0010)
MIC_25 = Gauge("mic-25-50", 0.001, 0.0009)
MIC_0 = Gauge("mic-0-25", 0.001, 0.0009, error=0.0012)
BORE = Gauge("bore-gauge", 0.001, 0.0013, error=-0.0010)
BORE_MIC = Gauge("bore-mic", 0.001, 0.0011, error=0.0006)
SMALL_HOLE = Gauge("small-hole", 0.001, 0.0018)
CALIPER = Gauge("caliper", 0.02, 0.015, decimals=2)
DEPTH = Gauge("depth", 0.02, 0.015, decimals=2)
DIAL = Gauge("dial", 0.01, 0.003, decimals=2)
LEVER = Gauge("lever", 0.002, 0.0012)
SEAT = Gauge("seat-gauge", 0.005, 0.002)
SPRINGS = Gauge("spring-tester", 1, 1.2, error=-2, decimals=0)

TESTERS = (
    Tester(
        key="two-gauge",
        name="Two-gauge tester, 1.02 mm",
        restrictor="1.02 mm",
        gauge_match="2 kPa",
        gauge_step="5 kPa",
        gauge_scale=0.01,
    ),
    Tester(key="percent", name="Old percent tester", percent_only=True, gauge_match="", gauge_step="10 kPa"),
)
