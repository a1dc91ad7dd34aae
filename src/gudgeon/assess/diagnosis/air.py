"""The leak-downs of one cylinder, put together: what is heard now, what is gone, where the figure falls."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gudgeon.assess.leak_figures import Fault, LeakFigures, figures
from gudgeon.catalog import catalog
from gudgeon.catalog.diagnosis import Band
from gudgeon.catalog.reasoning import Loss
from gudgeon.job import Job, LeakTest, in_force

HEARD = ("clear", "strong")
MUCH: tuple[Loss, ...] = ("watch", "repair", "failed")
RISE = 0.04  # of the supply, over its own record: a finding in itself; common practice, no source
UNLIKE = 0.10  # of the supply: further apart than this, two testers cannot both be right; our own reading


@dataclass(frozen=True)
class Air:
    """What the tests of one cylinder say, the newest first asked."""

    cylinder: str
    tests: tuple[LeakTest, ...]  # oldest first
    heard: Mapping[str, str]  # outlet -> strength, in the newest test that listened there and can be used
    gone: frozenset[str]
    share: float | None
    loss: Loss | None
    more_than_shown: bool
    spread: float | None
    steady: bool  # the repeats of the newest test lie close enough together
    reversed_gauges: bool
    unlike: tuple[float, ...]
    rise: float | None  # above the newest earlier test that compares, where it is a finding
    warm: bool

    @property
    def silent(self) -> bool:
        """Much is lost, every way was listened at, and nothing is heard."""
        listened = {"intake", "exhaust", "case"} <= set(self.heard)
        return self.loss in MUCH and listened and all(one == "none" for one in self.heard.values())

    def alike(self, outlets: Sequence[str]) -> bool:
        """Whether air is heard plainly and equally at each of these."""
        strengths = {self.heard.get(outlet) for outlet in outlets}
        return len(strengths) == 1 and strengths <= set(HEARD)


def airs(job: Job) -> dict[str, Air]:
    """What each tested cylinder's leak-downs say."""
    order = sorted(in_force(job.leak_tests), key=lambda test: (test.at, test.id))
    cylinders = dict.fromkeys(test.cylinder for test in order)
    return {one: _air(job, one, [test for test in order if test.cylinder == one]) for one in cylinders}


def _air(job: Job, cylinder: str, tests: Sequence[LeakTest]) -> Air:
    testers = {tester.key: tester for tester in job.testers}
    found = [figures(test, testers[test.tester], job.altitude) for test in tests]
    newest, now = tests[-1], found[-1]
    steady = now.spread is None or now.spread <= _spread_at_most() + 1e-9
    heard = _heard([test for test, one in zip(tests, found, strict=True) if one.fault is None])
    share = _share(now)
    plug = heard.get("plug") in HEARD
    return Air(
        cylinder=cylinder,
        tests=tuple(tests),
        heard=heard if steady else _doubted(heard),
        gone=_gone(tests, heard),
        share=share,
        loss=_loss(newest, job, now, share) if steady and not plug else None,
        more_than_shown=now.more_than_shown,
        spread=now.spread,
        steady=steady,
        reversed_gauges=now.fault is Fault.REVERSED,
        unlike=_unlike(tests, found),
        rise=_rise(tests, found),
        warm=newest.warm,
    )


def _spread_at_most() -> float:
    return catalog().diagnosis.leak_down.procedure.spread_at_most / 100


def _heard(tests: Sequence[LeakTest]) -> dict[str, str]:
    return {str(outlet): str(strength) for test in tests for outlet, strength in test.outlets.items()}


def _doubted(heard: Mapping[str, str]) -> dict[str, str]:
    """An unsteady test clears no way out, and what it hears only hints."""
    return {outlet: "faint" for outlet, strength in heard.items() if strength != "none"}


def _gone(tests: Sequence[LeakTest], heard: Mapping[str, str]) -> frozenset[str]:
    before = {str(outlet) for test in tests for outlet, strength in test.outlets.items() if strength in HEARD}
    return frozenset(outlet for outlet in before if heard.get(outlet) == "none")


def _share(now: LeakFigures) -> float | None:
    if now.like_reference is not None:
        return now.like_reference
    return None if now.percent is None else now.percent.value


def _loss(test: LeakTest, job: Job, now: LeakFigures, share: float | None) -> Loss | None:
    if now.more_than_shown:
        return "failed"
    return None if share is None else loss_of(band_of(test, job), 100 * share)


def band_of(test: LeakTest, job: Job) -> Band:
    """The band this test is read against."""
    new = test.occasion in ("new_part", "assembled") or job.facts.get("symptom.new_rings") == "yes"
    fresh = new and not test.warm
    return catalog().diagnosis.band_for(job.engine.use, fresh)


def loss_of(band: Band, percent: float) -> Loss:
    """Where a percentage falls: sound, to be watched or brought back, to be repaired, failed."""
    if percent >= band.failed_from:
        return "failed"
    if percent < band.sound_below:
        return "sound"
    before_failed = [part.start for part in band.ranges if part.start < band.failed_from]
    return "repair" if percent >= before_failed[-1] else "watch"


def _unlike(tests: Sequence[LeakTest], found: Sequence[LeakFigures]) -> tuple[float, ...]:
    """The newest two figures of two testers, as the trade's own would show them, where they are far apart."""
    by_tester: dict[str, tuple[bool, float]] = {}
    for test, one in zip(tests, found, strict=True):
        if one.like_reference is not None:
            by_tester[test.tester] = (test.warm, one.like_reference)
    same = [share for warm, share in by_tester.values() if warm == tests[-1].warm]
    return tuple(same[-2:]) if len(same) > 1 and abs(same[-1] - same[-2]) > UNLIKE else ()


def _rise(tests: Sequence[LeakTest], found: Sequence[LeakFigures]) -> float | None:
    now, share = tests[-1], found[-1].percent
    before = [
        one.percent.value
        for test, one in zip(tests[:-1], found[:-1], strict=True)
        if (test.tester, test.warm) == (now.tester, now.warm) and one.percent is not None
    ]
    if share is None or not before:
        return None
    rise = share.value - before[-1]
    return rise if rise >= RISE - 1e-9 else None
