"""Rows worked out from other rows: each by the function its catalog row names, from the same ledgers.

A row whose inputs are not there is simply not measured; a row that no function here works out is left alone.
"""

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from gudgeon.assess.bench import Bench
from gudgeon.assess.extremes import worst_pair
from gudgeon.assess.measuring import Taken
from gudgeon.assess.results import Place
from gudgeon.assess.rules import PLAIN
from gudgeon.assess.wording import sums
from gudgeon.calc.ledger import Measured, combination, difference, mean
from gudgeon.calc.ring_gap import bore_change_from_gaps
from gudgeon.catalog import Characteristic
from gudgeon.job import Round

Positions = Mapping[str, Taken]


@dataclass(frozen=True, slots=True)
class Inputs:
    """What a row is worked out from: the measured positions of each input row, in the catalog's order."""

    row: Characteristic
    instance: str
    of: tuple[Positions, ...]
    choice: Callable[[str, str], str]
    size: Callable[[str], float | None]
    upper: float | None = None  # the limit an extreme must surely keep, where the rule asks for being sure


@dataclass(frozen=True, slots=True)
class Worked:
    """What a function gives back."""

    measured: Measured
    formula: str
    pairs: int = 1
    perfect: float | None = None
    worst: str = ""


Function = Callable[[Inputs], Worked | None]

HEIGHTS = frozenset({"top", "middle", "bottom"})
# A clearance that only part of a shaft takes part in.
_ONLY: Mapping[tuple[str, str], str] = {("small_end_clearance", "piston_pin_od"): "middle"}


def derived_places(bench: Bench) -> Iterator[Place]:
    """Every place a derived row could stand at on this engine, where it is not read directly."""
    direct = {(place.characteristic, place.instance) for place in bench.rounds}
    for row in bench.catalog.characteristics.values():
        if row.computed_by not in FUNCTIONS:
            continue
        over_own = not row.inputs
        for instance in bench.instances(row):
            if over_own or (row.key, instance) not in direct:
                yield Place(row.key, instance)


def derive(bench: Bench, place: Place, taken: Mapping[Place, Taken]) -> Taken | None:
    """One derived place, or None where its inputs are not all there."""
    row = bench.row(place)
    function = FUNCTIONS.get(row.computed_by)
    if function is None:
        return None
    of, sheet = _found(bench, place, taken), bench.job.sheet
    if not all(of):
        return None
    parents = [parent for positions in of for parent in positions.values()]
    newest = max((parent.round for parent in parents), key=lambda one: (one.began, one.occasion, one.turn))
    upper = _upper(bench, place, newest)
    worked = function(Inputs(row, place.instance, of, sheet.choice, sheet.size, upper))
    if worked is None:
        return None
    return Taken(
        place,
        Round(newest.occasion, newest.turn, None, newest.began, ()),
        worked.measured,
        used=tuple(reading for parent in parents for reading in parent.used),
        notes=tuple(dict.fromkeys(note for parent in parents for note in parent.notes)),
        formula=worked.formula,
        pairs=worked.pairs,
        perfect=worked.perfect,
        worst=worked.worst,
        step=row.step,
        instrument=parents[0].instrument,
    )


def _upper(bench: Bench, place: Place, newest: Round) -> float | None:
    bounds = bench.bounds(place, newest.occasion)
    return None if bounds is None or bench.rule(bounds) == PLAIN else bounds.upper


def input_places(bench: Bench, place: Place) -> tuple[Place, ...]:
    """The measured places a derived place is worked out from."""
    wanted = {(key, instance) for key, instance, _ in _sources(bench, place)}
    return tuple(other for other in bench.rounds if (other.characteristic, other.instance) in wanted)


def _sources(bench: Bench, place: Place) -> Iterator[tuple[str, str, str]]:
    """Each input row with its nearest place, and what is left of the derived place's name below it."""
    row = bench.row(place)
    known = bench.read_at
    for key in row.inputs or (row.key,):
        instance, tail = place.instance, ""
        while (key, instance) not in known and "." in instance:
            instance, _, tail = instance.rpartition(".")
        yield key, instance, tail


def _found(bench: Bench, place: Place, taken: Mapping[Place, Taken]) -> tuple[Positions, ...]:
    found = []
    for key, instance, tail in _sources(bench, place):
        positions = {
            other.place.position: other
            for other in taken.values()
            if (other.place.characteristic, other.place.instance) == (key, instance)
            and other.measured is not None
            and not other.open_side
            and not other.formula
        }
        only = _ONLY.get((place.characteristic, key)) or tail
        found.append(_part_of(positions, only))
    return tuple(found)


def _part_of(positions: Positions, name: str) -> Positions:
    """The positions that begin with this name, where there are any."""
    chosen = {key: one for key, one in positions.items() if key.split("/")[0] == name}
    return chosen or positions


def _value(one: Taken) -> float:
    return _ledger(one).value


def _ledger(one: Taken) -> Measured:
    if one.measured is None:
        raise ValueError(f"{one.place} was handed on without a measured value; only measured places are.")
    return one.measured


def _clearance(inputs: Inputs) -> Worked | None:
    holes, shafts = inputs.of
    hole, shaft = max(holes.values(), key=_value), min(shafts.values(), key=_value)
    pairs = len(holes) * len(shafts)
    return Worked(difference(_ledger(hole), _ledger(shaft)), sums.clearance(pairs), pairs)


def _interference(inputs: Inputs) -> Worked | None:
    shafts, holes = inputs.of
    shaft, hole = min(shafts.values(), key=_value), max(holes.values(), key=_value)
    pairs = len(holes) * len(shafts)
    return Worked(difference(_ledger(shaft), _ledger(hole)), sums.interference(pairs), pairs)


def _difference(inputs: Inputs) -> Worked | None:
    first, *rest = (mean([_ledger(one) for one in positions.values()]) for positions in inputs.of)
    measured = combination([(1.0, first), *((-1.0, other) for other in rest)])
    return Worked(measured, sums.DIFFERENCE)


def _piston_clearance(inputs: Inputs) -> Worked | None:
    bores, skirts = inputs.of
    skirt = max(skirts.values(), key=_value)
    chosen = inputs.choice("bore_for_clearance", "largest")
    if chosen.removeprefix("at_") in HEIGHTS:
        bores = _at_height(bores, chosen.removeprefix("at_"))
    if not bores:
        return None
    if chosen == "mean":
        bore, pairs = mean([_ledger(one) for one in bores.values()]), 1
    else:
        pick = min if chosen == "smallest" else max
        bore, pairs = _ledger(pick(bores.values(), key=_value)), len(bores)
    return Worked(difference(bore, _ledger(skirt)), sums.piston_clearance(chosen), pairs)


def _at_height(bores: Positions, height: str) -> Positions:
    return {key: one for key, one in bores.items() if key.split("/")[0] == height}


def _chain_elongation(inputs: Inputs) -> Worked | None:
    (lengths,) = inputs.of
    pitch, links = inputs.size("cam_chain_pitch"), inputs.size("cam_chain_links")
    if not pitch or not links:
        return None
    measured = combination([(1 / (pitch * links), mean([_ledger(one) for one in lengths.values()]))])
    return Worked(Measured(measured.value - 1, measured.effects), sums.ELONGATION)


def _out_of_round(inputs: Inputs) -> Worked | None:
    (bores,) = inputs.of
    heights = [
        height
        for height in sorted({key.split("/")[0] for key in bores})
        if f"{height}/thrust" in bores and f"{height}/pin" in bores
    ]
    if not heights:
        return None
    places = [_ledger(bores[f"{height}/{axis}"]) for height in heights for axis in ("thrust", "pin")]
    pairs = [(2 * number, 2 * number + 1) for number in range(len(heights))]
    share = 0.5 if inputs.choice("out_of_round_definition", "thrust_against_pin") == "radial" else 1.0
    found = worst_pair(places, pairs, inputs.upper, share)
    where = sums.worst_height(heights[found.index])
    return Worked(found.measured, sums.out_of_round(share < 1), len(pairs), found.perfect, where)


def _taper(inputs: Inputs) -> Worked | None:
    (bores,) = inputs.of
    chosen = inputs.choice("taper_definition", "along_each_axis")
    if chosen == "all_readings":
        return _largest_within([list(bores.values())], sums.ALL_READINGS, [""], inputs.upper)
    if chosen == "top_less_bottom":
        ends = [bores[key] for key in ("top/thrust", "bottom/thrust") if key in bores]
        return _largest_within([ends], sums.TOP_LESS_BOTTOM, [""], inputs.upper)
    axes = sorted({key.split("/")[1] for key in bores})
    groups = [[one for key, one in bores.items() if key.endswith(f"/{axis}")] for axis in axes]
    return _largest_within(groups, sums.ALONG_EACH_AXIS, axes, inputs.upper)


def _largest_within(
    groups: Sequence[Sequence[Taken]], words: str, names: Sequence[str], upper: float | None
) -> Worked | None:
    """The worst pair of any group; places of different groups are not compared."""
    numbered = list(
        enumerate((name, one) for group, name in zip(groups, names, strict=True) for one in group)
    )
    pairs = [
        (first, second)
        for (first, (axis, _)), (second, (other, _)) in itertools.combinations(numbered, 2)
        if axis == other
    ]
    if not pairs:
        return None
    found = worst_pair([_ledger(one) for _, (_, one) in numbered], pairs, upper)
    axis, _ = numbered[pairs[found.index][0]][1]
    return Worked(found.measured, words, len(pairs), found.perfect, sums.worst_axis(axis))


def _bore_from_gaps(inputs: Inputs) -> Worked | None:
    (gaps,) = inputs.of
    worn, unworn = gaps.get("worn_place"), gaps.get("unworn_place")
    if worn is None or unworn is None:
        return None
    share = float(bore_change_from_gaps(1.0, 0.0))
    measured = combination([(share, _ledger(worn)), (-share, _ledger(unworn))])
    return Worked(measured, sums.GAPS)


def _opposite(positions: Positions) -> list[Measured]:
    pairs = [("front", "rear"), ("left", "right")]
    return [
        mean([_ledger(positions[one]), _ledger(positions[other])])
        for one, other in pairs
        if one in positions and other in positions
    ]


def _smallest_of_opposite_pairs(inputs: Inputs) -> Worked | None:
    means = _opposite(inputs.of[0])
    if len(means) < 2:
        return None
    smallest = min(means, key=lambda one: one.value)
    return Worked(smallest, sums.SMALLER_OPPOSITE, len(means))


def _mean_of_opposite_pairs(inputs: Inputs) -> Worked | None:
    means = _opposite(inputs.of[0])
    return Worked(mean(means), sums.ONE_OPPOSITE) if means else None


FUNCTIONS: Mapping[str, Function] = {
    "clearance": _clearance,
    "interference": _interference,
    "difference": _difference,
    "piston_clearance": _piston_clearance,
    "out_of_round": _out_of_round,
    "taper": _taper,
    "chain_elongation": _chain_elongation,
    "bore_from_gap_difference": _bore_from_gaps,
    "smallest_of_opposite_pairs": _smallest_of_opposite_pairs,
    "mean_of_opposite_pairs": _mean_of_opposite_pairs,
}


def judged_as_a_whole(row: Characteristic) -> bool:
    """Whether a row's positions are only noted, the whole of them being judged."""
    return not row.inputs and row.computed_by in FUNCTIONS
