"""Sums about ring gaps, what they tell of the bore, and the balance of the crank."""

from collections.abc import Mapping

from gudgeon.calc.balance import balance_factor, bob_for_factor, reciprocating_mass
from gudgeon.calc.expansion import material
from gudgeon.calc.ring_gap import bore_change_from_gaps, hot_gap, target_gap
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked, chosen
from gudgeon.fitting.engine_fields import BORE
from gudgeon.fitting.sources import band, reading
from gudgeon.fitting.told import Told

RINGS = {"steel_1020": "steel", "grey_iron": "cast iron"}
BARRELS = {"aluminium_cast_356": "plated aluminium", "grey_iron": "iron liner"}


def _ring(given: Given) -> Mapping[str, Result]:
    wanted = float(target_gap(given["factor"], given["bore"]))
    cold = max(given.get("gap"), wanted)  # as it will be once filed
    hot = hot_gap(
        cold,
        given["bore"],
        ring_expansion=material(given.word("ring")).expansion,
        ring_rise=given["ring_rise"],
        barrel_expansion=material(given.word("barrel")).expansion,
        barrel_rise=given["barrel_rise"],
    )
    found: dict[str, Result] = {"target": wanted, "hot": float(hot), "change": float(hot) - cold}
    return found | ({"file_off": wanted - given["gap"]} if given.has("gap") else {})


def _say_ring(told: Told) -> tuple[str, ...]:
    first = f"The gap wanted is {told['target']}."
    if told.has("file_off"):
        off = told.value("file_off")
        first = (
            f"File {told.size('file_off')} off one end: the gap wanted is {told['target']}."
            if off > 0
            else f"Nothing to file: the gap of {told['gap']} is not below the {told['target']} wanted."
        )
    hot = (
        "The ends would butt when hot: open the gap, or ask the ring's maker."
        if told.value("hot") <= 0
        else f"Hot it is {told['hot']} ({told['change']})."
    )
    return (first, hot, "The leaflet with the rings and the manual decide; file one end, inward, and deburr.")


RING_GAP = Sum(
    key="ring-gap",
    question="What gap do I file the ring to, and what is it hot?",
    subject="Pistons and rings",
    fields=(
        BORE,
        asked(
            "factor",
            "gap for each mm of bore",
            "1",
            0.001,
            0.02,
            default="0.0045",
            step="0.0001",
            help="0.0040 to 0.0045 top, 0.0045 to 0.0055 second: common practice, no source.",
        ),
        asked(
            "gap",
            "gap now",
            "mm",
            0,
            5,
            step="0.01",
            optional=True,
            sources=(reading("ring_gap_top", "smallest"),),
        ),
        chosen("ring", "ring", RINGS, "steel_1020"),
        chosen("barrel", "what sets the bore", BARRELS, "aluminium_cast_356"),
        asked("ring_rise", "ring warmer than now by", "K", 0, 400, default="150", step="1"),
        asked("barrel_rise", "barrel warmer than now by", "K", 0, 300, default="100", step="1"),
    ),
    outs=(
        Out("target", "gap wanted", "mm", "0.01"),
        Out("file_off", "to file off", "mm", "0.01", signed=True),
        Out("hot", "gap when hot", "mm", "0.01"),
        Out("change", "change by heat", "mm", "0.01", signed=True),
    ),
    work=_ring,
    say=_say_ring,
    why=(
        "Gap wanted = share × bore.",
        "Hot gap = cold gap − π × bore × (growth of the ring − growth of the bore).",
        "A plated aluminium barrel grows more than the ring and opens the gap; an iron liner closes it.",
    ),
    source="exact geometry; expansions from Callister, Materials Science and Engineering, table B.6, as read",
    functions=("ring_gap.target_gap", "ring_gap.hot_gap"),
    cautions=("chips",),
)


def _bore_from_gaps(given: Given) -> Mapping[str, Result]:
    return {"wider": float(bore_change_from_gaps(given["worn"], given["unworn"]))}


def _say_gaps(told: Told) -> tuple[str, ...]:
    way = "wider" if told.value("wider") >= 0 else "narrower"
    return (
        f"Where the ring turns the bore is {told.size('wider')} {way} than below its travel.",
        "The same ring, squared with the piston, at both places: its own shape then drops out.",
    )


BORE_FROM_GAPS = Sum(
    key="bore-from-gaps",
    question="How much has the bore worn, from a ring's gap?",
    subject="Pistons and rings",
    fields=(
        asked("worn", "gap where the top ring turns", "mm", 0, 10, step="0.01"),
        asked("unworn", "gap of the same ring below the rings' travel", "mm", 0, 10, step="0.01"),
    ),
    outs=(Out("wider", "difference of the bore", "mm", "0.001", signed=True),),
    work=_bore_from_gaps,
    say=_say_gaps,
    why=("Difference in bore = difference in gap / π: 0.03 mm of gap is about 0.010 mm of bore.",),
    source="exact geometry",
    functions=("ring_gap.bore_change_from_gaps",),
)


def _balance(given: Given) -> Mapping[str, Result]:
    up_and_down = float(reciprocating_mass(given["piston_set"], given["small_end"]))
    factor = float(balance_factor(given["bob"], given["rotating"], up_and_down))
    found: dict[str, Result] = {"factor": factor, "reciprocating": up_and_down}
    if given.has("wanted"):
        wanted = float(bob_for_factor(given["wanted"], given["rotating"], up_and_down))
        found |= {"bob_wanted": wanted, "bob_change": wanted - given["bob"]}
    return found


def _say_balance(told: Told) -> tuple[str, ...]:
    more: tuple[str, ...] = ()
    if told.has("bob_wanted"):
        bob = f"{told['bob_wanted']} ({told['bob_change']})"
        more = (f"For {told['wanted']} the crank must balance a bob of {bob}.",)
    return (
        f"The balance factor is {told['factor']}.",
        *more,
        "Change it only where the piston's weight changed by a tenth or so (common practice, no source).",
    )


BALANCE = Sum(
    key="balance-factor",
    question="What is the balance factor of this crank?",
    subject="Crank",
    fields=(
        asked(
            "bob",
            "bob at the crankpin that balances the crank",
            "g",
            0,
            10000,
            step="1",
            help="Level on knife edges.",
        ),
        asked(
            "rotating",
            "rod's big end, and what turns with it, not fitted while weighing",
            "g",
            0,
            5000,
            step="1",
        ),
        asked(
            "piston_set",
            "piston with rings, pin and clips",
            "g",
            10,
            3000,
            step="1",
            sources=(reading("piston_weight"),),
        ),
        asked("small_end", "rod's small end, the rod held level", "g", 0, 2000, step="1"),
        asked(
            "wanted",
            "balance factor wanted",
            "%",
            0,
            150,
            step="1",
            optional=True,
            sources=(band("balance_factor", "low"),),
        ),
    ),
    outs=(
        Out("factor", "balance factor", "%", "0.1"),
        Out("reciprocating", "weight that goes up and down", "g", "1"),
        Out("bob_wanted", "bob for the factor wanted", "g", "1"),
        Out("bob_change", "bob heavier by", "g", "1", signed=True),
    ),
    work=_balance,
    say=_say_balance,
    why=("Factor = (bob − rotating weight) / weight that goes up and down.",),
    source="definition as the trade uses it, common practice, no source",
    functions=("balance.balance_factor", "balance.bob_for_factor"),
)

SUMS = (RING_GAP, BORE_FROM_GAPS, BALANCE)
