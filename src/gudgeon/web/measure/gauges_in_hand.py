"""Which gauge is in hand for which readings of a page, and the check in force."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from gudgeon.catalog import Characteristic, catalog
from gudgeon.job import Check, Instrument, Job, Zeroing
from gudgeon.report.phrases import day
from gudgeon.web.measure.asked import Asked
from gudgeon.web.tokens import plain_id

MEASURING = "measuring"
ZEROED = ("one_gauge_difference", "direct_clearance")


@dataclass(slots=True)
class Group:
    """Readings that one gauge serves."""

    key: str
    tools: tuple[str, ...] = ()
    gauges: tuple[Instrument, ...] = ()
    names: list[str] = field(default_factory=list)
    chosen: str = ""
    check: str = ""
    zeroings: tuple["ZeroedOn", ...] | None = None
    zeroed: str = ""

    @property
    def label(self) -> str:
        """What the choice is for."""
        shown = self.names if len(self.names) <= 3 else [*self.names[:2], f"{len(self.names) - 2} more"]
        first = "Gauge in hand" if len(self.names) > 3 else "Gauge in hand for"
        return f"{first}: {', '.join(name[:1].lower() + name[1:] for name in shown)}"


@dataclass(frozen=True, slots=True)
class ZeroedOn:
    """A zeroing in words."""

    key: str
    words: str


def groups(
    rows: Sequence[Characteristic], job: Job, gauges: Sequence[Instrument], choice: Asked, today: str
) -> tuple[dict[str, Group], list[Group]]:
    """The group of each characteristic that a gauge reads, and the groups in the order of the page.

    Rows that are usually read by the same kind of gauge share one choice.
    """
    found: dict[str, Group] = {}
    by_row: dict[str, Group] = {}
    for row in rows:
        tools = tuple(tool for tool in row.instruments if catalog().tools[tool].kind == MEASURING)
        if row.kind != "number" or not tools or not typed_by_hand(row):
            continue
        group = found.setdefault(tools[0], Group(plain_id(tools[0])))
        group.tools = tuple(dict.fromkeys((*group.tools, *tools)))
        group.names.append(row.name)
        by_row[row.key] = group
        if set(row.reads) & set(ZEROED) and group.zeroings is None:
            group.zeroings = ()
    for group in found.values():
        group.gauges = tuple(gauge for tool in group.tools for gauge in gauges if gauge.tool == tool)
        _choose(group, [row.key for row in rows if by_row.get(row.key) is group], job, choice, today)
    return by_row, list(found.values())


def typed_by_hand(row: Characteristic) -> bool:
    """Whether anything is typed for it at all."""
    return any(how != "computed" for how in row.reads)


def _choose(group: Group, rows: list[str], job: Job, choice: Asked, today: str) -> None:
    keys = [gauge.key for gauge in group.gauges]
    taken = [
        reading for reading in job.readings if reading.characteristic in rows and reading.instrument in keys
    ]
    used = max(taken, key=lambda reading: reading.at, default=None)
    usual = (used.instrument if used else _only_one(group)) or ""
    wanted = choice.gauges.get(group.key, usual)
    group.chosen = wanted if wanted in keys else ""
    in_hand = next((gauge for gauge in group.gauges if gauge.key == group.chosen), None)
    group.check = check_words(in_hand, today) if in_hand else ""
    if group.zeroings is not None:
        mine = [zeroing for zeroing in job.zeroings if zeroing.instrument == group.chosen]
        group.zeroings = tuple(
            ZeroedOn(zeroing.key, zeroing_words(zeroing, job, group.gauges)) for zeroing in mine
        )
        last = mine[-1].key if mine else ""
        group.zeroed = choice.zeroings.get(group.key, last)


def _only_one(group: Group) -> str:
    """The gauge meant when nobody says so: the only one of the usual kind, or the only one at all."""
    first = [gauge.key for gauge in group.gauges if gauge.tool == group.tools[0]] or [
        g.key for g in group.gauges
    ]
    return first[0] if len(first) == 1 else ""


def check_words(gauge: Instrument, today: str) -> str:
    """The check in force, in one line."""
    check = in_force_on(gauge, today)
    if check is None:
        return "No check of this gauge is written down; its maker's class is all that is known."
    due = f"; due {day(check.due)}" if check.due else ""
    late = " and overdue" if check.due and check.due < today else ""
    said = f"correction {check.correction}, ± {check.expanded_uncertainty}"
    return f"Checked {day(check.date)}: {said}{due}{late}"


def in_force_on(gauge: Instrument, day: str) -> Check | None:
    """The newest check made on or before the day."""
    before = [check for check in gauge.checks if check.date <= day]
    return max(before, key=lambda check: check.date) if before else None


def zeroing_words(zeroing: Zeroing, job: Job, gauges: Sequence[Instrument]) -> str:
    """What a gauge was set to zero on."""
    if zeroing.against.startswith("part:"):
        part = next((part for part in job.parts if part.id == zeroing.against[5:]), None)
        on = f"the {catalog().parts[part.part].name.lower()} itself" if part else "the mating part itself"
    else:
        names = {gauge.key: gauge.name for gauge in (*job.instruments, *gauges)}
        on = names.get(zeroing.against, zeroing.against)
    size = f" at {zeroing.size}" if zeroing.size else ""
    return f"{on}{size}, {day(zeroing.at)}"
