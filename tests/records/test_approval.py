"""An apprentice's decision waits for a builder's word; who sent what stays with the job."""

import msgspec
import pytest
from tests.records.jobs import a_job

from gudgeon.job import Approval, settled, waiting
from gudgeon.job.file import JobFileError, read_job, write_job
from gudgeon.job.objects import Job
from gudgeon.quantities import Refused
from gudgeon.records.queries import load_job
from gudgeon.records.services.decision import DecisionTyped, approve, decide
from gudgeon.records.services.entry import Form, Saved, Who, new_token
from gudgeon.records.services.finding import FindingTyped, record_finding
from gudgeon.records.services.transfer import export_job, import_job

pytestmark = pytest.mark.django_db
changed = msgspec.structs.replace
AT = "2026-03-14T13:00:00Z"
BUILDER, APPRENTICE = Who("MK", "laptop"), Who("JO", "tablet", apprentice=True)


def job_with_approval(**more: object) -> Job:
    """The apprentice JO decided after the builder, and the builder agreed."""
    job = a_job()
    first, second = job.decisions
    return changed(
        job,
        findings=tuple(changed(one, device="phone") for one in job.findings),
        decisions=(first, changed(second, apprentice=True, device="tablet")),
        **{"approvals": (Approval(decision="d2", by="MK", at=AT, device="laptop"),)} | more,
    )


def decided(choice: str, who: Who, replaces: str = "") -> str:
    """Decide on the cylinder; gives the decision's name."""
    seen = a_job().decisions[0].snapshot
    typed = DecisionTyped("cylinder", "1", choice, "because")  # type: ignore[arg-type]  # one of the words
    outcome = decide("17", typed, seen, Form(new_token(), replaces), who)
    assert isinstance(outcome, Saved)
    return outcome.fact.id


def standing(number: str = "17") -> tuple[list[str], list[str]]:
    """What is decided on the cylinder, and what waits."""
    job = load_job(number)
    return (
        [one.choice for one in settled(job) if one.part == "cylinder"],
        [one.choice for one in waiting(job) if one.part == "cylinder"],
    )


def test_device_and_approval_go_from_file_to_database_to_file() -> None:
    file = write_job(job_with_approval())
    import_job(file, Who(""))
    assert export_job("17") == file


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        (
            {"approvals": (Approval(decision="d1", by="MK", at=AT),)},
            "no apprentice decided",
        ),
        ({"approvals": (Approval(decision="d2", by="ZZ", at=AT),)}, "“ZZ” took part"),
        (
            {"approvals": (Approval(decision="d2", by="MK", at=AT),) * 2},
            "approved 2 times",
        ),
    ],
)
def test_an_approval_of_nothing_or_by_nobody_is_refused(more: dict[str, object], sentence: str) -> None:
    with pytest.raises(JobFileError, match=sentence):
        read_job(write_job(job_with_approval(**more)))


def test_an_apprentices_decision_stands_once_a_builder_says_so() -> None:
    import_job(write_job(a_job()), Who(""))
    key = decided("rework", APPRENTICE)
    assert standing() == ([], ["rework"])
    for _ in range(2):
        approve("17", key, BUILDER)
    assert standing() == (["rework"], [])
    [approval] = load_job("17").approvals
    assert (approval.decision, approval.by, approval.device) == (key, "MK", "laptop")


def test_until_then_the_builders_earlier_word_stands() -> None:
    import_job(write_job(a_job()), Who(""))
    first = decided("reuse", BUILDER)
    second = decided("rework", APPRENTICE, first)
    third = decided("replace", APPRENTICE, second)
    assert standing() == (["reuse"], ["replace"])
    with pytest.raises(Refused, match="decided on this part anew"):
        approve("17", second, BUILDER)
    decided("watch", BUILDER, third)
    assert standing() == (["watch"], [])


def test_an_apprentice_approves_nothing_and_a_builders_own_word_needs_no_approval() -> None:
    import_job(write_job(a_job()), Who(""))
    for key, who in ((decided("rework", APPRENTICE), APPRENTICE), ("d2", BUILDER), ("no such", BUILDER)):
        with pytest.raises(Refused, match="does not wait for a builder"):
            approve("17", key, who)
    assert load_job("17").approvals == ()


def test_findings_and_decisions_say_which_device_they_came_from() -> None:
    import_job(write_job(a_job()), Who(""))
    decided("watch", BUILDER)
    record_finding("17", FindingTyped("Burr on the edge"), Form(new_token()), APPRENTICE)
    job = load_job("17")
    assert job.decisions[-1].device == "laptop"
    assert job.findings[-1].device == "tablet"
