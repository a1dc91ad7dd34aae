"""Which way most of the air goes: the leak shared out over its ways, from a percentage and bag readings."""

from collections.abc import Mapping

from gudgeon.calc.atmosphere import standard_pressure
from gudgeon.calc.leak_budget import ANY_PART, LeakBudget, LeakTest, flow_at_outlet, leak_budget
from gudgeon.calc.leakdown import FREE_AIR_DENSITY, effective_area, leak_area, leak_mass_flow
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked
from gudgeon.fitting.engine_fields import ALTITUDE, RESTRICTOR, SUPPLY
from gudgeon.fitting.leak import NOZZLE, PERCENT, SAFE
from gudgeon.fitting.told import Told

WAYS = {"intake": "intake", "exhaust": "exhaust", "crankcase": "crankcase (past the rings)"}
REST = "elsewhere"
NAMES = WAYS | {REST: "anywhere else"}


def _area(given: Given, percent: str) -> tuple[float, float]:
    """Effective area behind a percentage, and its standard uncertainty from the doubt of the percentage."""
    doubt = given["percent_doubt"] / 2
    ends = [_at(given, given[percent] + side * doubt) for side in (-1, 0, 1)]
    return ends[1], max((ends[2] - ends[0]) / 2, 1e-12)


def _at(given: Given, percent: float) -> float:
    supply, ambient = given["supply"], float(standard_pressure(given["altitude"]))
    share = min(max(percent, 0.0), 0.99)
    found = leak_area(float(effective_area(given["restrictor"])), supply, supply * (1 - share), ambient).area
    return 0.0 if found is None else float(found)


def _flow(given: Given, way: str) -> tuple[float, float]:
    """Effective area behind a free-air flow at one outlet, and its standard uncertainty."""
    cylinder = given["supply"] * (1 - given["percent"])
    each = float(leak_mass_flow(1.0, cylinder, float(standard_pressure(given["altitude"]))))
    area = given[f"{way}_flow"] * FREE_AIR_DENSITY / each
    return area, max(area * given["flow_doubt"] / 2, 0.01 * _at(given, given["percent"]), 1e-12)


def _budget(given: Given) -> LeakBudget:
    paths = [*WAYS, REST]
    tests = [LeakTest(*_area(given, "percent"), supply_gauge=given["supply"])]
    if given.has("percent_oiled"):
        area, doubt = _area(given, "percent_oiled")
        tests.append(LeakTest(area, doubt, {"crankcase": ANY_PART}, supply_gauge=given["supply"]))
    tests += [flow_at_outlet(way, *_flow(given, way), paths) for way in WAYS if given.has(f"{way}_flow")]
    return leak_budget(paths, tests)


def _work(given: Given) -> Mapping[str, Result]:
    found = _budget(given)
    numbers: dict[str, Result] = {}
    mixed = {way for group in found.not_told_apart for way in group}
    for way, path in found.paths.items():
        numbers |= {f"{way}_low": path.share_low, f"{way}_high": path.share_high}
        if way not in mixed:  # how a shared leak is split is not known, so no figure pretends it
            numbers[way] = path.share
    groups = "; ".join(" and ".join(NAMES[one] for one in group) for group in found.not_told_apart)
    more = ", ".join(NAMES[one] for one in found.measure_next if one != REST)
    return numbers | {"mixed": groups, "next": more}


def _say(told: Told) -> tuple[str, ...]:
    ways = sorted(NAMES, key=lambda way: -(told.value(way) if told.has(way) else told.value(f"{way}_high")))
    first = NAMES[ways[0]]
    mixed, more = told.outcome("mixed"), told.outcome("next")
    lines = [f"{_capital(NAMES[way])}: {_share(told, way)}." for way in ways]
    apart = [f"These readings cannot tell apart: {mixed}."] if mixed else []
    following = [f"Next, measure the flow at: {more}."] if more else []
    if not told.has(ways[0]):
        return ("These readings do not say which way most of the air goes.", *lines, *apart, *following)
    return (f"Most of the air goes by the {first}: {_share(told, ways[0])}.", *lines[1:], *apart, *following)


def _share(told: Told, way: str) -> str:
    low, high = told.like(way, told.value(f"{way}_low")), told.like(way, told.value(f"{way}_high"))
    if not told.has(way) or told.value(f"{way}_low") <= 0:
        return f"at most {high}"
    return f"about {told[way]} ({low} to {high})"


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


LEAK_BUDGET = Sum(
    key="leak-budget",
    question="Which way does most of the air go?",
    subject="Leak-down",
    fields=(
        PERCENT,
        asked("percent_doubt", "the percentage is good to ±", "%", 0.1, 20, default="2", step="0.1"),
        SUPPLY,
        RESTRICTOR,
        ALTITUDE,
        *(
            asked(
                f"{way}_flow",
                f"air out at the {words}",
                "L/min",
                0,
                500,
                step="0.1",
                optional=True,
                help="Free air, by bag and watch or a flow meter, every outlet open.",
            )
            for way, words in {"intake": "intake", "exhaust": "exhaust", "crankcase": "breather"}.items()
        ),
        asked("flow_doubt", "the flows are good to ±", "%", 1, 80, default="20", step="1"),
        asked(
            "percent_oiled",
            "percentage with oil on the rings",
            "%",
            0,
            99,
            step="0.1",
            optional=True,
            help="How far oil closes the rings is not known, and is counted so.",
        ),
    ),
    outs=tuple(Out(way, words, "%", "1") for way, words in NAMES.items()),
    work=_work,
    say=_say,
    why=(
        "The ways leak side by side, so their areas add up to the whole; none can be below nothing.",
        "Each flow tells of its own way, the percentage of all; intervals hold the truth 95 times in 100.",
    ),
    source=f"non-negative least squares (Lawson and Hanson, 1974) with profile likelihood; {NOZZLE}",
    functions=("leak_budget.leak_budget", "leak_budget.flow_at_outlet"),
    cautions=SAFE,
)

SUMS = (LEAK_BUDGET,)
