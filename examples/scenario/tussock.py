"""Just booked in: a small twin that stopped at speed and will not turn."""

from pathlib import Path
from uuid import uuid5

from examples.scenario import shop
from examples.scenario.notebook import NAMESPACE, Notebook
from examples.scenario.whinmoor import typed

from gudgeon.datasheet import read_file
from gudgeon.job.objects import Engine, Job, Part, Visit

NUMBER = "26-021"
SHEET = read_file(Path(__file__).parents[1] / "sheets" / "tussock-402.toml")

PISTON_2 = str(uuid5(NAMESPACE, f"{NUMBER} part piston 2"))

NOT_POSSIBLE = {
    "leakdown_pct": "Not possible, because the crank does not turn: no piston can be brought to its top.",
    "cranking_compression": "Not possible, because the crank does not turn.",
    "valve_clearance_in": "Not possible, because the cams cannot be turned off their valves.",
    "valve_clearance_ex": "Not possible, because the cams cannot be turned off their valves.",
    "oil_pressure_hot": "Not possible, because the engine cannot be run.",
}


def notebook() -> Notebook:
    """The first hour: looked at, nothing forced."""
    book = Notebook(NUMBER, SHEET)
    book.day("2026-03-11 13:30:00")
    book.look("turn_by_hand", "1", "", "locked", "plugs out, gently by hand, no movement either way")
    book.look("water_or_fuel_in_cylinder", "1", "", "dry")
    book.look("water_or_fuel_in_cylinder", "2", "", "oil", "crown wet at one edge")
    book.look("oil_look", "1", "level", "low")
    book.look("oil_look", "1", "smell", "in order")
    book.look("oil_look", "1", "colour", "burnt or black")
    for position, word in (("drain", "3 flakes"), ("magnet", "3 flakes"), ("screen", "4 chips or needles")):
        book.look("oil_debris_grade", "1", position, word, "copper colour among them")
    book.look("air_path", "1", "", "clean")
    book.look("breather_clear", "1", "", "free")
    book.text(
        "battery_cranking_volts", "1", "", "12,4 V", instrument="volts", note="starter hums and does not turn"
    )
    book.find("Copper-coloured flakes in the pan under the drain", "shell_wiped")
    book.find(
        "Lead camera, cylinder 2: streaks on the thrust side from the top of the stroke down",
        "pst_one_side",
        part=PISTON_2,
    )
    return book


def job() -> Job:
    """The job as booked in."""
    book = notebook()
    return Job(
        number=NUMBER,
        title="Tussock 402 Twin: stopped dead, will not turn",
        customer="Ash Penhallow (invented)",
        words="Oil light came on in the last stage, then the rear wheel locked. Towed home.",
        arrival="will_not_turn",
        opened="2026-03-11",
        stage="book_in",
        facts={"runs": "no", "turns": "no", "debris": "yes"},
        not_possible=NOT_POSSIBLE,
        engine=Engine(
            key="tussock-penhallow",
            name="Tussock 402 Twin",
            number="TK402-1133",
            use="race",
            visits=(Visit(date="2026-03-11", meter=typed("57.5 h", "time")),),
        ),
        sheet=SHEET,
        people=shop.PEOPLE,
        instruments=shop.INSTRUMENTS,
        parts=(Part(id=PISTON_2, part="piston", instance="2"),),
        readings=tuple(book.readings),
        findings=tuple(book.findings),
    )
