"""Whether it is worth it, in sentences: hours at the bench, sorts of parts, now or later."""

from collections.abc import Collection, Sequence

from gudgeon.assess.wording.figures import several
from gudgeon.assess.wording.letters import inside

WATCH_BY_HOURS = (
    "Run on, and test again by hours: a rise of 4 points from its own record is a finding in itself."
)


def part(name: str, note: str) -> str:
    """A part as it stands in a list, with the other road where it has one."""
    short = inside(name.partition(" (")[0])
    return f"{short}, new or reworked" if "the other road" in note else short


def how_sure(surely: bool, perhaps: bool) -> str:
    """How sure it is that some of this sort are new."""
    if surely:
        return "surely; perhaps more" if perhaps else "surely"
    return "perhaps" if perhaps else "not expected"


def opened(names: Collection[str]) -> str:
    """What is opened: "top end and head"."""
    return several([inside(name) for name in names])


def _span(low: float, high: float) -> str:
    low, high = round(low, 1), round(high, 1)
    return f"{low:g} hours" if low == high else f"{low:g} to {high:g} hours"


def taken(names: Collection[str], jobs: int, low: float, high: float, tenths: bool) -> str:
    """Hours that finished jobs took, which of them are meant, and how many there are."""
    which = "the middle eight tenths of them" if tenths else "the shortest to the longest"
    return (
        f"{_span(low, high)} at the bench: {which}, of our last {jobs} jobs of just this ({opened(names)})."
    )


def reckoned(name: str, low: float, high: float, *, alone: bool) -> str:
    """Hours that the shop reckons with for one scope."""
    by_itself = ", done by itself" if alone else ""
    return f"We reckon with {_span(low, high)} ({inside(name)}{by_itself})."


def together(unreckoned: Sequence[str]) -> str:
    """Several scopes in one opening."""
    shared = "In one opening they take less than one after the other."
    return f"For {opened(unreckoned)} we have no figure. {shared}" if unreckoned else shared


def no_hours(names: Collection[str]) -> str:
    """The shop has no figure."""
    return f"We have no figures of our own yet for the hours this takes ({opened(names)})."


def to_give(names: Collection[str], jobs: int, needed: int) -> str:
    """Where the shop puts its figures."""
    so_far = f"; so far {'there is' if jobs == 1 else 'there are'} {jobs}" if jobs else ""
    return (
        f"Give the hours at the bench when a job is closed: {needed} jobs of just this ({opened(names)}) "
        f"make a figure{so_far}. Until then, say in the shop’s settings what you reckon with."
    )


def before(times: int, jobs: int) -> str:
    """In how many earlier jobs; kept on one line."""
    return f"{times}\u00a0of\u00a0{jobs}"


def new(surely: Sequence[str], perhaps: Sequence[str]) -> str:
    """What of one sort is new in any case, and what may be."""
    lines = (
        f"Surely: {'; '.join(surely)}." if surely else "",
        f"Perhaps: {'; '.join(perhaps)}." if perhaps else "",
    )
    return " ".join(line for line in lines if line) or "Nothing speaks for it."


def family(said: str, surely: bool, earlier: str) -> str:
    """One sort of part, with what it came to in earlier jobs."""
    if not earlier:
        return said
    return f"{said} {'More of it than is sure' if surely else 'Something of it'} was new in {earlier} jobs."


def range_of(jobs: int) -> str:
    """How the two columns are to be read."""
    ours = f" “2 of {jobs}”: two of our last {jobs} jobs of just this took more than is sure." if jobs else ""
    return (
        "Surely is what is new once this is opened, and what is proved. Perhaps is what the other causes, "
        f"and what may still be found, can ask for: measuring decides.{ours}"
    )


def _hours(ends: Sequence[float]) -> str:
    if len(ends) == 1:
        return f"{ends[0]:g} hours and more"
    return f"{ends[0]:g} hours" if ends[0] == ends[1] else f"{ends[0]:g} to {ends[1]:g} hours"


def usual_hours(use: str, top: Sequence[float], crank: Sequence[float], now: float | None) -> str:
    """What hours are usual, and where this engine stands."""
    stands = "its hours are not known" if now is None else f"this one has run {now:.0f} hours"
    return (
        f"In {use} use a top end goes {_hours(top)} and a crank {_hours(crank)} (common practice, no "
        f"source); {stands}."
    )


def one_or_two_openings(crank: Sequence[float], now: float | None) -> str:
    """Whether the bottom end is worth doing at the same opening."""
    if now is None:
        return (
            "With its hours unknown, feel the rod with the barrel off before deciding whether one "
            "opening is enough."
        )
    left = crank[0] - now
    if left <= 0:
        return (
            "The crank has run its hours as well: both ends now is one opening; top now and bottom "
            "later is two."
        )
    return (
        f"The crank has about {left:.0f} hours to its usual strip: doing the top alone now means a "
        "second opening then."
    )


def top_while_open(top: Sequence[float], now: float | None) -> str:
    """Whether the top end is worth doing while the cases are apart."""
    if now is not None and now < 0.5 * top[0]:
        return "The cylinder comes off anyway: piston and rings are measured, and kept if they are good."
    return (
        "The cylinder comes off anyway: piston and rings are measured now, because later is a second opening."
    )
