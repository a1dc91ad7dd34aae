"""What stands at each step of the leak-down page, from the trade's data."""

from dataclasses import dataclass

from gudgeon.catalog import catalog
from gudgeon.catalog.diagnosis import quantity
from gudgeon.job import Job


@dataclass(frozen=True, slots=True)
class Settle:
    """The settle time, and how long the needle must then stand still; in seconds and as the trade says it."""

    seconds: int
    steady: int
    settle: str
    steady_for: str


def settle() -> Settle:
    """The longest of the usual settle times: whoever waits so long has waited long enough."""
    procedure = catalog().diagnosis.leak_down.procedure
    longest = procedure.settle[-1]
    return Settle(
        round(quantity(longest)), round(quantity(procedure.steady_for)), longest, procedure.steady_for
    )


@dataclass(frozen=True, slots=True)
class Plugs:
    """What a check plug reads on testers of several restrictors."""

    supply: str
    holes: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]  # restrictor, and its percentage at each hole


def plugs() -> Plugs:
    """The trade's table, a restrictor a row."""
    known = catalog().diagnosis.leak_down.unknown_restrictor
    holes = tuple(sorted({one.hole for one in known.readings}))
    read = {(one.restrictor, one.hole): f"{one.percent:g} %" for one in known.readings}
    restrictors = sorted({one.restrictor for one in known.readings}, key=quantity)
    return Plugs(
        known.supply,
        holes,
        tuple((one, tuple(read.get((one, hole), "") for hole in holes)) for one in restrictors),
    )


def told(job: Job) -> dict[str, object]:
    """Cautions and instructions by the names the page knows them under."""
    known, down = catalog(), catalog().diagnosis.leak_down
    return {
        "holding": known.cautions[down.holding.caution].words,
        "nuts": down.holding,
        "air_line": known.cautions["air_line"].words,
        "nothing_blanked": known.cautions["nothing_blanked"].words,
        "cam_drive": known.cautions["hands_off_cam_drive"].words,
        "hot": known.cautions["hot_parts"].words,
        "turning": known.cautions["turning_engine"].words,
        "procedure": down.procedure,
        "ready": down.procedure.ready_on(job.sheet.layout),
        "settle": settle(),
        "plug": down.unknown_restrictor.how,
        "plugs": plugs(),
        "hose_shut": known.characteristics["tester_zero"].conditions,
        "on_the_plug": known.characteristics["tester_check_plug_pct"].conditions,
    }
