"""The diagnosis rows as they are used: bands, outlets, roads, the numbers of the leak-down."""

import math

import pytest

from gudgeon.catalog import Layout, catalog
from gudgeon.catalog.diagnosis import Band, quantity

ROWS = catalog().diagnosis


@pytest.mark.parametrize("band", ROWS.leak_down.bands.values(), ids=lambda band: band.key)
def test_bands_cover_every_percentage_once(band: Band) -> None:
    """From nothing to everything without a gap, in order; the last is open and means failed."""
    assert band.ranges[0].start == 0
    for one, following in zip(band.ranges, band.ranges[1:], strict=False):
        assert one.below == following.start
    assert band.ranges[-1].below is None
    assert band.ranges[-1].start == band.failed_from
    assert band.ranges[-1].says.startswith("failed")


@pytest.mark.parametrize(
    ("use", "percent", "says"),
    [
        ("race", 5, "sound; about 5 is very good"),
        ("race", 15, "bring back before it races"),
        ("trail", 14.9, "sound"),
        ("work", 15, "watch: test again by hours"),
        ("trail", 20, "repair the part the path names"),
        ("trail", 30, "failed: do not expect it to start"),
        ("trail", -0.4, "sound"),
    ],
)
def test_what_a_percentage_means(use: str, percent: float, says: str) -> None:
    """Common practice, no source: 5 to 10 racing, 15 to 20 worn, 20 to 30 repair, from 30 failed."""
    assert ROWS.band_for(use).at(percent).says == says


def test_new_rings_cold_have_their_own_band() -> None:
    """Whatever the use."""
    assert ROWS.band_for("race", fresh_and_cold=True).key == "fresh_cold"


def test_what_is_our_own_reading_is_marked() -> None:
    """Race, 10 to 15: not the trade's figure, and said so."""
    assert ROWS.band_for("race").at(12).basis == "our own reading"


def test_outlets_of_an_engine() -> None:
    """Coolant only where there is some, the neighbour only where there is one."""
    air = Layout({"cooling": "air"})
    twin = Layout({"cooling": "liquid"}, {"cylinders": 2})
    assert [outlet.key for outlet in ROWS.outlets_of(air)] == ["intake", "exhaust", "case", "plug", "outside"]
    assert [outlet.key for outlet in ROWS.outlets_of(twin)][-2:] == ["outside", "neighbour"]
    assert ROWS.paths_at("coolant", air) == ()
    assert [path.key for path in ROWS.paths_at("exhaust", air)] == ["exhaust", "both_ports"]


def test_every_outlet_has_a_way_and_every_position_an_outlet() -> None:
    """What may be heard leads somewhere."""
    twin = Layout({"cooling": "liquid"}, {"cylinders": 2})
    assert all(ROWS.paths_at(outlet, twin) for outlet in ROWS.outlets)
    heard = {position for outlet in ROWS.outlets.values() for position in outlet.positions}
    assert heard == set(catalog().characteristics["leakdown_path"].positions)


def test_roads() -> None:
    """Each set of facts that can be leads to one road; unknown facts to none."""
    assert ROWS.road({"runs": "yes", "turns": "yes"}) is ROWS.roads["runs"]
    assert ROWS.road({"runs": "no", "turns": "yes"}) is ROWS.roads["turns_only"]
    assert ROWS.road({"runs": "no", "turns": "no"}) is ROWS.roads["locked"]
    assert ROWS.road({}) is None


def test_every_precheck_has_a_finding_in_order() -> None:
    """And a way on from each finding."""
    for check in ROWS.prechecks.values():
        assert any(finding.in_order for finding in check.findings.values()), check.key
        assert any(not finding.in_order for finding in check.findings.values()) or check.key == "what_happens"
        assert all(finding.next and finding.meaning for finding in check.findings.values()), check.key


def test_refused_tests_say_why() -> None:
    """Nothing is blanked off above 20 kPa."""
    refused = [test for test in ROWS.path_tests.values() if not test.allowed]
    assert {test.key for test in refused} == {"blanked_case", "blanked_coolant"}
    assert all(test.words.startswith("refused") and quantity(test.highest_supply) <= 20e3 for test in refused)


def _percent(restrictor: float, hole: float, gauge_supply: float, ambient: float = 101_325.0) -> float:
    """Two orifices in series by bisection on the mass flow of a perfect gas, gamma 1.4.

    Own sum for this check: isentropic flow through a hole, choked below a ratio of 0.5283 (any handbook
    of gas flow, here from memory), the same discharge coefficient for both.
    """

    def flow(area: float, before: float, after: float) -> float:
        ratio = max(after / before, 0.528282)
        return area * before * math.sqrt(7 * (ratio ** (2 / 1.4) - ratio ** (2.4 / 1.4)))

    supply = gauge_supply + ambient
    low, high = ambient, supply
    for _ in range(80):
        middle = (low + high) / 2
        if flow(restrictor**2, supply, middle) > flow(hole**2, middle, ambient):
            low = middle
        else:
            high = middle
    return 100 * (supply - low) / gauge_supply


def test_the_check_plug_readings_are_what_the_sum_gives() -> None:
    """The rows marked computed, worked out again by another numerical route: within a tenth of a point."""
    rows = ROWS.leak_down.unknown_restrictor
    for row in rows.readings:
        worked = _percent(quantity(row.restrictor), quantity(row.hole), quantity(rows.supply))
        assert worked == pytest.approx(row.percent, abs=0.1), row


def test_the_equivalent_holes_are_what_the_sum_gives() -> None:
    """Each hole of the table, put into the same sum, loses the percentage beside it."""
    table = ROWS.leak_down.equivalent_hole
    for point in table.points:
        worked = _percent(quantity(table.restrictor), quantity(point.hole), quantity(table.supply))
        assert worked == pytest.approx(point.percent, abs=0.1), point


def test_the_crank_is_held_in_words() -> None:
    """The full sentence on holding is the caution's own."""
    assert "Hold the crank before the pressure goes up" in catalog().holding
