"""How long a part lasts: readings over hours to the hours left, or why that cannot be said yet."""

import math
from collections.abc import Mapping

from gudgeon.calc.ledger import Effect, Measured
from gudgeon.calc.wear import NoForecast, WearPoint, wear_forecast
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked, chosen
from gudgeon.fitting.told import Told
from gudgeon.quantities import Refused


def _points(given: Given) -> list[WearPoint]:
    hours, values = given.several("hours"), given.several("values")
    if len(hours) != len(values):
        raise Refused(
            f"{len(hours)} times and {len(values)} readings were given; allowed is one reading for each time."
        )
    shared = Effect("gauge", "the gauge's own error", given["shared"] / 2, math.inf, "normal")
    return [
        WearPoint(
            running,
            Measured(
                value, (Effect(f"visit {i}", "this reading", given["doubt"] / 2, math.inf, "normal"), shared)
            ),
        )
        for i, (running, value) in enumerate(zip(hours, values, strict=True))
    ]


def _forecast(given: Given) -> Mapping[str, Result]:
    found = wear_forecast(_points(given), given["limit"], rising=given.word("way") == "grows")
    if isinstance(found, NoForecast):
        next_visit: dict[str, Result] = {} if found.next_visit is None else {"next": found.next_visit}
        return {"why_not": found.why} | next_visit
    return {
        "left": found.left,
        "least": found.least_left,
        "most": found.most_left,
        "rate": abs(found.line.slope.value),
        "at": found.at_limit,
    }


def _say(told: Told) -> tuple[str, ...]:
    if told.has("why_not"):
        why = {
            "one reading": "one reading after the first 2 h says where the part is, not where it goes",
            "no wear seen yet": "the readings do not show wear beyond their own doubt",
        }[told.outcome("why_not")]
        then = f"A visit at about {told['next']} would probably give one." if told.has("next") else ""
        return (f"No forecast yet: {why}.", *((then,) if then else ()))
    if told.value("left") <= 0:
        return (f"By this line the limit was reached at {told['at']}: the part is due.", _interval(told))
    return (
        f"About {told['left']} are left until the limit.",
        _interval(told),
        f"It wears {told['rate']}. A new part begins a new row of readings.",
    )


def _interval(told: Told) -> str:
    return (
        f"Nine times in ten the truth lies between {told['least']} and {told['most']} from the last reading."
    )


WEAR_FORECAST = Sum(
    key="wear-forecast",
    question="How many hours has this part left?",
    subject="Wear and life",
    fields=(
        asked(
            "hours",
            "hours at each reading",
            "h",
            0,
            20000,
            many="several",
            help="Since this part was new; parted by spaces. What is read in the first 2 h is no wear yet.",
        ),
        asked("values", "reading at each", "mm", 0, 500, many="several"),
        asked("limit", "service limit", "mm", 0, 500, step="0.001"),
        chosen("way", "the size", {"grows": "grows with wear", "shrinks": "shrinks with wear"}, "grows"),
        asked("doubt", "each reading is good to ±", "mm", 0, 1, above=True, default="0.004", step="0.001"),
        asked(
            "shared",
            "error all readings share",
            "mm",
            0,
            1,
            default="0",
            step="0.001",
            help="The same gauge each time.",
        ),
    ),
    outs=(
        Out("left", "hours left", "h", "1"),
        Out("least", "at least", "h", "1"),
        Out("most", "at most", "h", "1"),
        Out("rate", "wear", "mm/10 h", "0.0001"),
        Out("at", "limit reached at", "h", "1"),
        Out("next", "next visit", "h", "1"),
    ),
    work=_forecast,
    say=_say,
    why=(
        "A straight line through the readings, weighted with their doubt; what all share only shifts it.",
        "The interval is where the line with its doubt may cross the limit; shown only when bounded.",
    ),
    source="generalised least squares; E. C. Fieller, 1954, from memory, checked by simulated engines",
    functions=("wear.wear_forecast",),
)

SUMS = (WEAR_FORECAST,)
