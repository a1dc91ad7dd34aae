"""The scope the builder chose beside the one proposed."""

from gudgeon.assess.diagnosis.results import Diagnosis


def proposed_to_leave(found: Diagnosis) -> str:
    """Whether the proposal opens nothing, and which of the two ways; empty while nothing is known."""
    if found.scope.scopes == ("watch",):
        return "watch"
    known = any(cause.standing == "likely" for cause in found.causes)
    return "none" if not found.scope.scopes and known else ""


def differs(found: Diagnosis, scopes: tuple[str, ...], left: str) -> bool:
    """Whether the choice is another one than the proposal; with nothing proposed, none differs."""
    proposed = proposed_to_leave(found)
    if not found.scope.scopes and not proposed:
        return False
    wanted = () if proposed else found.scope.scopes
    return set(scopes) != set(wanted) or left != proposed
