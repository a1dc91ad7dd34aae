"""Where on the engine: the key of each place a reading is taken for, and its words.

Keys are built from the outside in, joined by points: ``1`` (cylinder 1), ``1.in.2`` (cylinder 1, intake
valve 2), ``1.in.2.inner`` (its inner spring), ``1.top`` (cylinder 1, top ring), ``1.left`` (its left boss
or web), ``in.1`` (intake camshaft, journal 1), ``left`` (left main). Words leave out what is the only one
of its kind.
"""

from collections.abc import Callable, Iterable
from functools import lru_cache

from gudgeon.catalog.layout import Layout, counts

Places = dict[str, str]
KINDS = {"in": "intake", "ex": "exhaust"}


def instances(layout: Layout, per: str) -> tuple[str, ...]:
    """The key of each place there is one reading set for."""
    return tuple(_places(layout, per))


def words_for(layout: Layout, per: str, key: str) -> str:
    """The place in words: "cylinder 1, intake valve 2"; empty where there is only one."""
    return _places(layout, per).get(key, key)


def per_words() -> tuple[str, ...]:
    """The closed list of what a reading set can be taken for."""
    return tuple(_MAKERS)


@lru_cache(maxsize=2048)
def _places(layout: Layout, per: str) -> Places:
    return _MAKERS[per](layout)


def _many(layout: Layout, count: str) -> int:
    return int(counts(layout)[count])


def _joined(*words: str) -> str:
    return ", ".join(word for word in words if word)


def _numbered(noun: str, how_many: int) -> Places:
    """ "1" to "n"; one alone needs no words."""
    return {str(n): f"{noun} {n}" if how_many > 1 else "" for n in range(1, how_many + 1)}


def _named(noun: str, names: Iterable[str], how_many: int) -> Places:
    """The first of these names, then numbers where there are more."""
    keys = [*names][:how_many] + [str(n) for n in range(len([*names]) + 1, how_many + 1)]
    if how_many == 1:
        return {keys[0]: ""}
    return {key: f"{noun} {key}" if key.isdigit() else f"{key} {noun}" for key in keys}


def _within(outer: Places, inner: Callable[[str], Places]) -> Places:
    """Every inner place in every outer one."""
    return {
        f"{key}.{inner_key}": _joined(words, inner_words)
        for key, words in outer.items()
        for inner_key, inner_words in inner(key).items()
    }


def _cylinders(layout: Layout) -> Places:
    return _numbered("cylinder", _many(layout, "cylinders"))


def _valves_of(layout: Layout, *kinds: str) -> Places:
    def valves(_: str) -> Places:
        found: Places = {}
        for kind in kinds:
            how_many = _many(layout, "intake_valves" if kind == "in" else "exhaust_valves")
            for n in range(1, how_many + 1):
                found[f"{kind}.{n}"] = f"{KINDS[kind]} valve" + (f" {n}" if how_many > 1 else "")
        return found

    return _within(_cylinders(layout), valves)


def _valves(layout: Layout) -> Places:
    return _valves_of(layout, "in", "ex")


def _springs(layout: Layout) -> Places:
    if _many(layout, "springs_per_valve") == 1:
        return _valves(layout)
    return _within(
        _valves(layout), lambda _: _named("spring", ("outer", "inner"), _many(layout, "springs_per_valve"))
    )


def _each_kind(layout: Layout, noun: str) -> Places:
    return _within(_cylinders(layout), lambda _: {kind: f"{words} {noun}" for kind, words in KINDS.items()})


def _like_valves(layout: Layout, count: str, noun: str) -> Places:
    """One for each valve, or one for each side of a cylinder, or simply numbered."""
    how_many = _many(layout, count)
    if how_many == _many(layout, "valves"):
        return {key: words.replace("valve", f"{noun}") for key, words in _valves(layout).items()}
    if how_many == 2 * _many(layout, "cylinders"):
        return _each_kind(layout, noun)
    return _numbered(noun, how_many)


def _camshafts(layout: Layout) -> Places:
    how_many, cylinders = _many(layout, "cams"), _many(layout, "cylinders")
    if layout.fields.get("valve_train") != "rocker_screw":
        if how_many == 2:
            return {kind: f"{words} camshaft" for kind, words in KINDS.items()}
        if how_many == 2 * cylinders:
            return _each_kind(layout, "camshaft")
    return _numbered("camshaft", how_many)


def _cam_journals(layout: Layout) -> Places:
    shafts, how_many = _camshafts(layout), _many(layout, "cam_journals")
    if how_many % len(shafts):
        return _numbered("cam journal", how_many)
    return _within(shafts, lambda _: _numbered("journal", how_many // len(shafts)))


def _cam_sprockets(layout: Layout) -> Places:
    shafts = {key: words or "camshaft" for key, words in _camshafts(layout).items()}
    return {"crank": "crank sprocket"} | {key: f"{words} sprocket" for key, words in shafts.items()}


def _rings(layout: Layout) -> Places:
    return _within(
        _cylinders(layout),
        lambda _: _named("ring", ("top", "second", "third"), _many(layout, "compression_rings")),
    )


def _rails(layout: Layout) -> Places:
    return _within(
        _cylinders(layout), lambda _: _named("rail", ("upper", "lower"), _many(layout, "oil_rails"))
    )


def _sides(noun: str) -> Places:
    return {side: f"{side} {noun}".strip() for side in ("left", "right")}


def _each_side(noun: str) -> Callable[[Layout], Places]:
    return lambda layout: _within(_cylinders(layout), lambda _: _sides(noun))


def _mains(layout: Layout) -> Places:
    how_many = _many(layout, "mains_count")
    if how_many <= 3:
        names = ("left", "right") if how_many == 2 else ("left", "middle", "right")
        return _named("main", names, how_many)
    return {str(n): f"main {n} from the left" for n in range(1, how_many + 1)}


def _rod_bolts(layout: Layout) -> Places:
    each = _many(layout, "rod_bolts_count") // _many(layout, "cylinders")
    return _within(_cylinders(layout), lambda _: _numbered("rod bolt", each))


def _gears(layout: Layout) -> Places:
    pairs = {str(n): f"pair {n}" for n in range(1, _many(layout, "gear_pairs") + 1)}
    return _within(pairs, lambda _: {"input": "on the input shaft", "output": "on the output shaft"})


def _case_faces(layout: Layout) -> Places:
    if layout.fields.get("cases") == "horizontal":
        return {"upper": "upper case", "lower": "lower case"}
    return {"left": "left case", "right": "right case"}


def _counted(noun: str, count: str) -> Callable[[Layout], Places]:
    return lambda layout: _numbered(noun, _many(layout, count))


def _one(_: Layout) -> Places:
    return {"1": ""}


_MAKERS: dict[str, Callable[[Layout], Places]] = {
    "engine": _one,
    "cylinder": _cylinders,
    "piston": _cylinders,
    "piston_boss": _each_side("boss"),
    "compression_ring": _rings,
    "oil_rail": _rails,
    "head": _one,
    "valve": _valves,
    "intake_valve": lambda layout: _valves_of(layout, "in"),
    "exhaust_valve": lambda layout: _valves_of(layout, "ex"),
    "valve_spring": _springs,
    "camshaft": _camshafts,
    "lobe": lambda layout: _like_valves(layout, "lobes", "lobe"),
    "cam_journal": _cam_journals,
    "rocker": lambda layout: _like_valves(layout, "rockers", "rocker"),
    "guide": _counted("guide", "chain_guides"),
    "sprocket": _cam_sprockets,
    "rod": _cylinders,
    "crank_side": lambda _: _sides("side"),
    "crankpin": _cylinders,
    "web": _each_side("web"),
    "main": _mains,
    "rod_bolt": _rod_bolts,
    "pump": lambda layout: _named("pump", ("feed", "scavenge"), _many(layout, "oil_pump_sets")),
    "jet": _counted("jet", "oil_jet_count"),
    "friction_plate": _counted("plate", "friction_plates"),
    "steel_plate": _counted("plate", "steel_plates"),
    "clutch_spring": _counted("spring", "clutch_spring_count"),
    "gear": _gears,
    "fork": _counted("fork", "forks"),
    "fork_rail": _counted("rail", "fork_rail_count"),
    "gearbox_shaft": lambda _: {"input": "input shaft", "output": "output shaft"},
    "plug": _cylinders,
    "coil_phase": _counted("phase", "stator_phases"),
    "case_face": _case_faces,
    "stud": _counted("stud", "studs"),
    "fastener": _one,
}
