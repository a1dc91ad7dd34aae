"""The pages of failures and diagnosis."""

from itertools import groupby

from gudgeon.catalog import Catalog
from pages.form import Lines, answered, capital, facts, head, parts_named


def failures_page(trade: Catalog) -> Lines:
    """Patterns of failure."""
    yield from head(
        "Patterns of failure",
        "A pattern is a hypothesis; the named check confirms it. No part is condemned by the pattern alone.",
    )
    rows = sorted(trade.failures.values(), key=lambda row: row.where)
    for where, group in groupby(rows, key=lambda row: row.where):
        yield from (f"## {capital(where)}", "")
        for row in group:
            yield from (
                f"### {capital(row.finding)}",
                "",
                f"`{row.key}`" + answered(row.applies_if, trade),
                "",
            )
            yield from facts(
                ("Likely", "; ".join(row.likely_causes)),
                ("Check", "; ".join(row.checks)),
                ("Measure", ", ".join(trade.characteristics[key].name for key in row.check_characteristics)),
                ("Do", "; ".join(row.actions)),
                ("Until then", row.severity),
                ("May need", parts_named(row.parts, trade)),
                ("Basis", "; ".join(row.basis)),
            )


def diagnosis_page(trade: Catalog) -> Lines:
    """Pre-checks, leak-down, blind spots, the phases."""
    rows = trade.diagnosis
    yield from head(
        "Finding out what is wrong", "The band says how much, the path says what, the trend says how fast."
    )
    yield from ("## Roads into the job", "")
    yield from (f"- `{road.key}`: {road.steps}." for road in rows.roads.values())
    yield from ("", "## Before the air test", "")
    for check in rows.prechecks.values():
        yield from (
            f"### {check.name}",
            "",
            f"{check.how} ({check.instruments})" + answered(check.applies_if, trade),
            "",
            "| finding | meaning | next |",
            "|---|---|---|",
        )
        yield from (
            f"| {'in order: ' if row.in_order else ''}{row.finding} | {row.meaning} | {row.next} |"
            for row in check.findings.values()
        )
        yield from (
            "",
            *(
                [f"Cautions: {', '.join(trade.cautions[key].name for key in check.cautions)}.", ""]
                if check.cautions
                else []
            ),
        )
    yield from _leak_down(trade)
    yield from ("## What air cannot see", "", "| not seen | covering check | sign |", "|---|---|---|")
    yield from (
        f"| {row.not_seen} | {row.covering_check} | {row.sign} |" for row in rows.blind_spots.values()
    )
    yield from ("", "## The job, phase by phase", "")
    for phase in trade.job_phases.values():
        yield from (f"### {phase.name}", "")
        yield from facts(
            ("In", phase.inputs),
            ("Decided", phase.decisions),
            ("Out", phase.outputs),
            ("Goes wrong", phase.what_goes_wrong),
        )


def _leak_down(trade: Catalog) -> Lines:
    leak = trade.diagnosis.leak_down
    yield from (
        "## Leak-down",
        "",
        trade.holding,
        "",
        capital(leak.holding.moment_sign) + ".",
        "",
    )
    for band in leak.bands.values():
        yield from (
            f"### Band: {band.name}",
            "",
            *(f"{capital(band.note)}." for _ in [0] if band.note),
            "",
            "| from % | below % | says |",
            "|---|---|---|",
        )
        yield from (
            f"| {row.start:g} | {'' if row.below is None else f'{row.below:g}'} | {row.says} |"
            for row in band.ranges
        )
        yield from ("", f"Basis: {'; '.join(band.basis)}.", "")
    yield from (
        leak.bands_note,
        "",
        leak.bands_origin,
        "",
        f"{capital(leak.reference.name)}: {leak.reference.says} ({'; '.join(leak.reference.basis)}).",
        "",
    )
    yield from (
        "### Where the air goes",
        "",
        "| heard or felt | what leaks | how to be sure | usual repair |",
        "|---|---|---|---|",
    )
    yield from (
        f"| {path.heard_or_felt} | {path.component} | {path.confirm} | {path.usual_repair} |"
        for path in trade.diagnosis.leak_paths.values()
    )
    yield from ("", "### Telling ways apart", "")
    yield from (
        f"- {'' if test.allowed else '**Not allowed**: '}{test.words} (supply at most {test.highest_supply})."
        for test in trade.diagnosis.path_tests.values()
    )
    yield from (
        "",
        "### Tester not known",
        "",
        leak.unknown_restrictor.how,
        "",
        "| restrictor | hole in the plug | reads |",
        "|---|---|---|",
    )
    yield from (
        f"| {row.restrictor} | {row.hole} | {row.percent:g} % |" for row in leak.unknown_restrictor.readings
    )
    yield ""
