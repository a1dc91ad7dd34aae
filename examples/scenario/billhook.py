"""Half way: an air-cooled single, head and barrel off, some of it measured, nothing decided."""

from pathlib import Path

from examples.scenario import shop
from examples.scenario.notebook import Notebook
from examples.scenario.shop import BLADES, BORE, CALIPER, MIC_50, SMALL_HOLE
from examples.scenario.whinmoor import typed
from msgspec.structs import replace

from gudgeon.datasheet import read_file
from gudgeon.job.instruments import Zeroing
from gudgeon.job.objects import Engine, Job, Visit
from gudgeon.job.tests import LeakReading, LeakTest

NUMBER = "26-019"
NEWEST = read_file(Path(__file__).parents[1] / "sheets" / "billhook-219.toml")
#: The job stands on the first revision, in which nobody had looked up the guides yet.
SHEET = replace(
    NEWEST, revision=1, limits={name: rows for name, rows in NEWEST.limits.items() if name != "guide_bore"}
)
IRON = 10.5e-6


def notebook() -> Notebook:
    """Two days so far."""
    book = Notebook(NUMBER, SHEET, by="TA")
    book.day("2026-03-09 08:20:00")
    book.look("turn_by_hand", "1", "", "free")
    book.look("air_path", "1", "", "oily film")
    book.look("breather_clear", "1", "", "restricted", "hose kinked behind the battery tray")
    book.look("oil_look", "1", "level", "low")
    for position, word in (("drain", "2 visible grains"), ("magnet", "2 visible grains")):
        book.look("oil_debris_grade", "1", position, word)
    book.feel("valve_clearance_in", "1.in.1", "", "0.12 goes, 0.13 does not")
    book.feel("valve_clearance_ex", "1.ex.1", "", "0.10/0.11")
    book.text("cranking_compression", "1", "", "610 kPa", instrument="compression")
    book.text("rod_play_tdc_onbike", "1", "", "0,03", instrument="dial")
    book.text("ambient_temperature", "1", "air", "14", instrument="thermometer")
    book.look("kick_return", "1", "", "returns")
    book.look("spark_quality", "1", "", "strong")
    _barrel(book)
    return book


def _barrel(book: Notebook) -> None:
    book.day("2026-03-10 08:10:00", room=17)
    bore = {
        "top/thrust": 66.4080,
        "top/pin": 66.3720,
        "middle/thrust": 66.3860,
        "middle/pin": 66.3610,
        "bottom/thrust": 66.3520,
        "bottom/pin": 66.3440,
    }
    for position, true in bore.items():
        book.size("bore_diameter", "1", position, true, BORE, times=2, expands=IRON, zeroing="on-mic")
    book.size("piston_skirt_diameter", "1", "", 66.2260, MIC_50, times=2, expands=20e-6)
    for position, word in (("thrust", "score without edge"), ("other", "polished")):
        book.look("bore_look", "1", position, word)
    book.feel("ring_gap_top", "1", "worn_place", "0.65 goes, 0.70 does not")
    book.feel("ring_gap_top", "1", "unworn_place", "0.40/0.45")
    book.text("ring_free_gap", "1.top", "", "74 mm", instrument="caliper")
    book.size("ring_free_gap", "1.second", "", 7.2, CALIPER)
    for position, true in (("left", 14.992), ("middle", 14.984), ("right", 14.992)):
        book.size("piston_pin_od", "1", position, true, CALIPER)
    for position in ("diagonal_1", "diagonal_2"):
        book.feel("head_flatness", "1", position, "0.05 goes, 0.06 does not", blades=BLADES)
    for position, true in (("top/1", 5.541), ("bottom/1", 5.536)):
        book.size("guide_bore", "1.ex.1", position, true, SMALL_HOLE)
    book.find("Top ring stuck for a third of its length", "rng_stuck", part="piston_rings")


def job() -> Job:
    """The job as it stands on the second evening."""
    book = notebook()
    old_tester = LeakTest(
        id=book.new_id("leak"),
        warm=True,
        tester="percent",
        readings=tuple(
            LeakReading(supply=typed("550 kPa", "pressure"), percent=typed(text, "ratio"))
            for text in ("33 %", "34 %", "32 %")
        ),
        outlets={"case": "strong", "intake": "none", "exhaust": "faint"},
        ambient_temperature=typed("14 °C", "temperature"),
        by="TA",
        at="2026-03-09T10:05:00Z",
        device="bench phone",
    )
    return Job(
        number=NUMBER,
        title="Billhook 219: smokes, uses oil",
        customer="Fern Addlestone (invented)",
        words="Blue smoke since autumn, a cup of oil every weekend.",
        arrival="runs_badly",
        opened="2026-03-09",
        stage="measure",
        facts={"runs": "yes", "turns": "yes", "debris": "no"},
        scope=("top_end", "head"),
        disturbed=(
            "base_gasket",
            "head_gasket",
            "cam_cover_gasket",
            "pin_circlips",
            "valve_seal",
            "engine_oil",
        ),
        engine=Engine(
            key="billhook-addlestone",
            name="Billhook 219",
            number="BH-5081",
            use="work",
            visits=(Visit(date="2026-03-09", meter=typed("812 h", "time")),),
        ),
        sheet=SHEET,
        people=shop.PEOPLE,
        instruments=shop.INSTRUMENTS,
        testers=shop.TESTERS[1:],
        zeroings=(
            Zeroing(
                key="on-mic",
                instrument="bore-gauge",
                against="mic-50-75",
                at="2026-03-10T08:05:00Z",
                size="66.300 mm",
                half_width="0.001 mm",
            ),
        ),
        leak_tests=(old_tester,),
        readings=tuple(book.readings),
        findings=tuple(book.findings),
    )
