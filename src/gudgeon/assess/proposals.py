"""Part by part: use again, watch, measure again, decide, rework, replace, or always new; each with why."""

from collections.abc import Iterable, Iterator, Sequence

from gudgeon.assess.bench import Bench
from gudgeon.assess.reasons.beside import bring_along, choice_of, try_new_mates
from gudgeon.assess.reasons.heard import of_leaks
from gudgeon.assess.reasons.measured import of_readings
from gudgeon.assess.reasons.run import of_disturbing, of_hours
from gudgeon.assess.reasons.say import RANK, Known, Say, Site
from gudgeon.assess.reasons.seen import of_findings
from gudgeon.assess.results import LeakVerdict, Proposal, Verdict
from gudgeon.assess.wording import proposals as words
from gudgeon.catalog import applies, count, instances, part_title

MOST_REASONS = 8
GOING = frozenset({"replace", "rework", "always_new"})


def proposals(
    bench: Bench, verdicts: Sequence[Verdict], leaks: Sequence[LeakVerdict], disturbed: Iterable[str]
) -> tuple[Proposal, ...]:
    """A proposal for every part that something was measured, seen, heard or disturbed of."""
    known = Known(bench, verdicts, leaks, frozenset(disturbed))
    said = {site: _reasons(known, site) for site in _sites(bench)}
    bring_along(known, said)
    try_new_mates(known, said)
    bring_along(known, said)
    return tuple(
        _proposal(bench, site, reasons) for site, reasons in said.items() if _worth_saying(site, reasons)
    )


def _condemns(say: Say) -> bool:
    """Whether a reason is told of a part that goes: what takes it, and what was seen or heard of it."""
    return RANK[say.choice] >= RANK["rework"] or (say.place is None and not say.aside)


def _worth(say: Say) -> bool:
    """Whether a reason is told of a part that stays or waits: all but readings in order."""
    return say.choice != "reuse" or say.place is None


def _sites(bench: Bench) -> Iterator[Site]:
    layout = bench.job.sheet.layout
    for part in bench.catalog.parts.values():
        if applies(part.applies_if, layout) and count(layout, part.quantity) > 0:
            for instance in instances(layout, part.per):
                yield Site(part, instance)


def _reasons(known: Known, site: Site) -> list[Say]:
    found = [
        *of_readings(known, site),
        *of_findings(known, site),
        *of_leaks(known, site),
        *of_disturbing(known, site),
    ]
    return [*found, *of_hours(known, site, bool(found))]


def _worth_saying(site: Site, reasons: Sequence[Say]) -> bool:
    """Work sent out is only proposed where it is needed."""
    if site.service:
        return choice_of(reasons) == "rework"
    return bool(reasons)


def _proposal(bench: Bench, site: Site, reasons: Sequence[Say]) -> Proposal:
    choice = choice_of(reasons)
    ordered = sorted(reasons, key=lambda say: -RANK[say.choice])
    if choice == "reuse":
        sentences: tuple[str, ...] = words.kept(tuple(say.words for say in ordered))
    else:
        going = choice in GOING
        telling = tuple(say.words for say in ordered if (_condemns(say) if going else _worth(say)))
        sentences = words.several(telling, MOST_REASONS)
        if going and choice != "always_new":
            sentences += words.other_road(site.part.note, site.service)
    places = tuple(say.place for say in ordered if say.place is not None)
    title = part_title(site.part, site.instance, bench.job.sheet.layout)
    return Proposal(site.part.key, site.instance, title, choice, sentences, places)
