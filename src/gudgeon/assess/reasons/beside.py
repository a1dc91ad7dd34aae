"""What stands beside a new part: renewed along with it, or tried against its size."""

from collections.abc import Iterator, Mapping, Sequence

from gudgeon.assess.places import scale_for
from gudgeon.assess.reasons.say import RANK, RENEWED, Known, Say, Site, together
from gudgeon.assess.results import Proposed, Verdict
from gudgeon.assess.wording import proposals as words
from gudgeon.assess.wording.figures import limit_words
from gudgeon.catalog import Characteristic, part_name
from gudgeon.datasheet import Limit

Said = Mapping[Site, list[Say]]
CLEARANCES = frozenset({"clearance", "piston_clearance"})


def choice_of(reasons: Sequence[Say]) -> Proposed:
    """What the gravest of the reasons asks for."""
    return max((say.choice for say in reasons), key=RANK.__getitem__, default="reuse")


def bring_along(known: Known, said: Said) -> None:
    """A part that is always renewed with another follows it, and what follows that one in its turn."""
    while _bring_once(known, said):
        pass


def _bring_once(known: Known, said: Said) -> bool:
    going = RENEWED | {"rework"}
    new = [site for site, reasons in said.items() if choice_of(reasons) in going]
    added = False
    for site, reasons in said.items():
        rule = site.part.replaced_when("with")
        if rule is None or choice_of(reasons) in going:
            continue
        leaders = (one for one in new if one.part.key in rule.parts and together(one.instance, site.instance))
        leader = next(leaders, None)
        if leader is not None:
            name = part_name(leader.part, known.bench.job.sheet.layout)
            reasons.append(Say("rework" if site.service else "replace", words.new_with(name, leader.service)))
            added = True
    return added


def try_new_mates(known: Known, said: Said) -> None:
    """A part that stays is tried against the new one beside it: what clearance the two will have."""
    new = [site for site, reasons in said.items() if choice_of(reasons) in RENEWED and not site.service]
    for site, reasons in said.items():
        if site in new or site.service or not reasons:
            continue
        for row in known.bench.catalog.characteristics.values():
            if row.computed_by in CLEARANCES and len(row.inputs) == 2:
                reasons[:0] = _against(known, site, new, row)


def _against(known: Known, site: Site, new: Sequence[Site], row: Characteristic) -> Iterator[Say]:
    """This part's own worst reading beside the smallest and the largest new mate."""
    hole, shaft = row.inputs
    for own, other in ((hole, shaft), (shaft, hole)):
        mates = [one for one in new if other in one.part.limits and together(one.instance, site.instance)]
        mine = [v for v in known.bearing(site, [own]) if v.measured is not None]
        if own in site.part.limits and mates and mine:
            place = known.bench.place(other, mates[0].instance)
            band = known.bench.limit(place)
            said = None if band is None else _verdict(known, row, mine, own == hole, mates[0], band)
            if said is not None:
                yield said


def _verdict(
    known: Known, row: Characteristic, mine: Sequence[Verdict], hole: bool, mate: Site, band: Limit
) -> Say | None:
    clearance = known.bench.limit(known.bench.place(row.key, mate.instance))
    values = [v.measured.value for v in mine if v.measured is not None]
    if band.band_low is None or band.band_high is None or clearance is None or not values:
        return None
    worst = max(values) if hole else min(values)
    ends = (worst - band.band_high, worst - band.band_low)
    low, high = ends if hole else (band.band_low - worst, band.band_high - worst)
    least = clearance.lower if clearance.lower is not None else clearance.band_low
    most = clearance.upper if clearance.upper is not None else clearance.band_high
    choice = _how_it_fits(low, high, least, most)
    if choice == "replace" and clearance.lower is clearance.upper is None:
        choice = "measure_again"  # a band of new parts condemns nothing
    other = known.bench.catalog.characteristics[band.characteristic]
    scale, size = scale_for(known.bench, row, row.step), scale_for(known.bench, other, other.step)
    name = part_name(mate.part, known.bench.job.sheet.layout)
    sizes = f"{size.limit(band.band_low)} to {size.limit(band.band_high)}"
    comes_to = f"{scale.value(low)} to {scale.value(high)}"
    wanted = limit_words(scale, least, most)
    return Say(
        choice,
        words.beside_new(row.name, name, (sizes, band.page), comes_to, (wanted, clearance.page), choice),
    )


def _how_it_fits(low: float, high: float, least: float | None, most: float | None) -> Proposed:
    slack = 1e-9
    if (most is not None and low > most + slack) or (least is not None and high < least - slack):
        return "replace"
    if (most is not None and high > most + slack) or (least is not None and low < least - slack):
        return "measure_again"
    return "reuse"
