"""From causes to what is opened: nothing, watch, or how deep; where to stop; whether now or later."""

from collections.abc import Mapping, Sequence

from gudgeon.assess.diagnosis.air import band_of
from gudgeon.assess.diagnosis.causes import NOTHING
from gudgeon.assess.diagnosis.results import CauseStanding, ScopeProposal
from gudgeon.assess.diagnosis.scene import Scene, only_heard
from gudgeon.assess.diagnosis.worth import WATCH, AskShop, in_hand, openings, takes
from gudgeon.assess.wording import diagnosis as words
from gudgeon.catalog.scopes import scopes_with_brought

DEEPEST_FIRST = ("bottom_end", "gearbox", "top_end", "head", "cam_drive", "clutch_side", "flywheel_side")


def proposed(scene: Scene, causes: Sequence[CauseStanding], shop: AskShop | None = None) -> ScopeProposal:
    """The scope that the likely causes ask for; its worth is that of the chosen one, where one is."""
    likely = [one for one in causes if one.standing == "likely"]
    asking = {one.cause: _asks(scene, one) for one in likely}
    wanted = {scope for scopes in asking.values() for scope in scopes}
    scopes = tuple(scope for scope in DEEPEST_FIRST if scope in wanted)
    if not scopes and WATCH in wanted:
        scopes = (WATCH,)
    opened = in_hand(scene.bench.job, scopes)
    notes = scene.bench.catalog.reasoning.notes.scopes
    because = tuple(words.asks(one.words, one.summary) for one in likely if asking[one.cause])
    named = tuple(notes[scope].words if scope in notes else scope for scope in scopes)
    return ScopeProposal(
        scopes=scopes,
        words=words.scope(named, scopes),
        sentence=words.scope_sentence(
            named,
            scopes,
            waits=any(one.scope and not asking[one.cause] for one in likely),
            outside=any(not one.scope and one.cause != NOTHING for one in likely),
            clear=bool(likely),
        )
        + words.and_watch(_watched(scopes, likely, asking)),
        because=because,
        stop_and_look=tuple(
            line for scope in scopes if scope in notes for line in notes[scope].stop_and_look
        ),
        may_be_found=may_be_found(scene, scopes),
        worth=openings(scene, opened),
        takes=takes(scene, opened, causes, shop),
    )


def _watched(
    scopes: Sequence[str], likely: Sequence[CauseStanding], asking: Mapping[str, tuple[str, ...]]
) -> list[str]:
    """What is run on beside what is opened."""
    if not scopes or scopes == (WATCH,):
        return []
    return [one.words for one in likely if asking[one.cause] == (WATCH,)]


def may_be_found(scene: Scene, scopes: Sequence[str]) -> tuple[str, ...]:
    """What each scope may still bring up; nothing that only adds a scope which is opened anyway."""
    notes = scene.bench.catalog.reasoning.notes.scopes
    opened = scopes_with_brought(scopes, scene.bench.job.sheet.layout) if scopes != (WATCH,) else frozenset()
    lines = [line for scope in scopes if scope in notes for line in notes[scope].may_be_found]
    return tuple(dict.fromkeys(line.words for line in lines if line.scope not in opened))


def _asks(scene: Scene, one: CauseStanding) -> tuple[str, ...]:
    """What one cause asks to be opened: nothing while it is only hinted at and a check of it is left; a
    watched one is left in at the figure its use only watches."""
    if not scene.looked_at:
        return ()
    if not {"proves", "strongly_suggests"} & {line.grade for line in one.evidence_for} and one.checks:
        return ()
    row = scene.bench.catalog.reasoning.causes[one.cause]
    air = scene.air.get(one.cylinder or scene.cylinders[0])
    if not row.watched or air is None or air.loss != "watch":
        return one.scope
    watches = band_of(air.tests[-1], scene.bench.job).watch_from is not None
    only_air = all(only_heard(line.about) for line in one.evidence_for)
    return (WATCH,) if watches and only_air else one.scope
