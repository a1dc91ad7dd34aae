"""The pages of the formulas: what each takes and gives, its equation, range, sources and outside checks."""

from collections import Counter
from collections.abc import Iterable

from pages.checks import Check, checks, passing_through, written_for
from pages.docstrings import described, flat, returned, sections, sources, subject_words, subjects
from pages.form import Lines, cell, head

MADE = (
    "This page is written by `python3 run.py docs` from the docstrings under `src/gudgeon/calc` and the"
    " tables under `tests/check_values`; edit those."
)
KINDS = {
    "published": "a published figure",
    "library": "another library",
    "numerical": "a numerical route of another kind",
    "definition": "a definition or exact arithmetic",
    "trade": "a figure of the trade",
}
HOW_TO_READ = (
    "Difference is relative, ours against the expected value; where nothing is expected it stands in the"
    " row's unit. “Under 1e-9” is no nearer told. A row without a unit is in SI units."
)


def title(subject: str) -> str:
    """A file's name as words."""
    return {"iso286": "ISO 286"}.get(subject, subject.replace("_", " ").capitalize())


def index_page() -> Lines:
    """Every subject, and what the checks rest on."""
    yield from head("Formulas", "One subject a page; everything inside is in SI units.", made=MADE)
    yield from ("| subject | formulas | what it is about |", "|---|---|---|")
    for subject, names in subjects().items():
        about = flat(subject_words(subject).split("\n\n")[0])
        yield f"| [{title(subject)}]({subject}.md) | {len(names)} | {cell(about)} |"
    counted = Counter(check.row.kind for check in checks())
    yield from ("", "## Outside checks", "", "| what the expected value is | rows |", "|---|---|")
    yield from (f"| {words} | {counted[kind]} |" for kind, words in KINDS.items())
    yield from (f"| together | {len(checks())} |", "", HOW_TO_READ, "")


def subject_page(subject: str) -> Lines:
    """The formulas of one file."""
    yield from head(title(subject), subject_words(subject), made=MADE)
    yield from (HOW_TO_READ, "")
    for name in subjects()[subject]:
        yield from _formula(subject, name)


def _formula(subject: str, name: str) -> Lines:
    found = sections(subject, name)
    yield from (f"## {name}", "", flat(found[""]), "")
    yield from (f"**Equation and notes.** {flat(found['Notes'])}", "")
    yield from _taken(found.get("Parameters", ""))
    kind, words = returned(found["Returns"])
    yield from (f"**Gives** ({kind}): {words}", "")
    yield from (f"**Holds for** {flat(found['Range'])}", "", "**Sources**", "")
    yield from (f"{turn}. {source}" for turn, source in enumerate(sources(found["References"]), 1))
    yield ""
    yield from _checked((subject, name))


def _taken(section: str) -> Lines:
    rows = described(section)
    if rows:
        yield from ("| takes | kind | what, with its unit |", "|---|---|---|")
        yield from (f"| `{name}` | {cell(kind)} | {cell(words)} |" for name, kind, words in rows)
        yield ""


def _checked(formula: tuple[str, str]) -> Lines:
    own = list(written_for(formula))
    if own:
        yield from ("**Outside checks**", "")
        yield from (
            "| check | expected | ours | difference | allowed | source | evidence |",
            "|" + "---|" * 7,
        )
        for check in own:
            yield from _lines(check)
        yield ""
    others = [check.row.id for check in passing_through(formula)]
    if others:
        yield from (f"{'Also g' if own else 'G'}one through by: {_some(others)}.", "")


def _lines(check: Check) -> Iterable[str]:
    """One line a compared value; source and evidence stand once."""
    said = (cell(check.row.source), cell(f"{KINDS[check.row.kind]}; {check.row.evidence}"))
    for one in check.compared:
        what = cell(check.row.id + (f": {one.what.removeprefix(', ')}" if one.what else ""))
        figures = (what, cell(one.expected), cell(one.ours), one.difference, one.allowed)
        yield f"| {' | '.join((*figures, *said))} |"
        said = ("″", "″")


def _some(ids: list[str], at_most: int = 6) -> str:
    more = f" and {len(ids) - at_most} more" if len(ids) > at_most else ""
    return "; ".join(ids[:at_most]) + more
