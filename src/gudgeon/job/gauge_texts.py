"""Whether the quantities that gauges and testers carry as text can be read."""

from collections.abc import Iterator

from gudgeon.job.objects import Job
from gudgeon.quantities import Kind, Refused, parse


def gauge_text_faults(job: Job) -> Iterator[str]:
    """One sentence for each that cannot."""
    for zeroing in job.zeroings:
        of = f"The zeroing “{zeroing.key}”"
        yield from _unread(of, (zeroing.size, zeroing.half_width), "length")
    for tester in job.testers:
        of = f"The leak-down tester “{tester.key}”"
        yield from _unread(of, (tester.restrictor or "",), "length")
        yield from _unread(of, (tester.gauge_match, tester.gauge_step), "pressure")


def _unread(of: str, texts: tuple[str, ...], kind: Kind) -> Iterator[str]:
    for text in texts:
        try:
            if text:
                parse(text, kind, signed=True)
        except Refused as refused:
            yield f"{of} cannot be read: {refused}"
