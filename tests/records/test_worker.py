"""Work that takes long: done in one thread, told in a row, interrupted work says so."""

import threading
import time
from collections.abc import Iterator

import pytest

from gudgeon.quantities import Refused
from gudgeon.records import models, worker

pytestmark = pytest.mark.django_db(transaction=True)


@worker.does("count")
def _count(work: models.Work, progress: worker.Progress) -> str:
    progress(50)
    assert models.Work.objects.get(pk=work.pk).progress == 50
    return work.subject * 2


@worker.does("refuse")
def _refuse(_: models.Work, __: worker.Progress) -> str:
    raise Refused("The disk of this test is made of cheese.")


@worker.does("break")
def _break(_: models.Work, __: worker.Progress) -> str:
    raise KeyError("inside")


@pytest.fixture
def thread() -> Iterator[worker.Worker]:
    running = worker.Worker().start()
    yield running
    running.stop()


def ended(work: int) -> models.Work:
    for _ in range(500):
        row = models.Work.objects.get(pk=work)
        if row.ended:
            return row
        time.sleep(0.02)
    raise AssertionError(f"still {row.state}")


def test_work_is_done_by_the_thread_and_its_result_is_kept(thread: worker.Worker) -> None:
    row = ended(worker.ask("count", "ab", "Counting"))
    assert (row.state, row.result, row.progress, row.why) == ("done", "abab", 100, "")


def test_what_fails_says_why_and_the_next_is_done(thread: worker.Worker) -> None:
    refused, broken = worker.ask("refuse", "", "Refusing"), worker.ask("break", "", "Breaking")
    done = worker.ask("count", "x", "Counting")
    assert ended(refused).why == "The disk of this test is made of cheese."
    assert (ended(broken).state, ended(broken).why.count("KeyError")) == ("failed", 0)
    assert ended(done).state == "done"


def test_what_comes_first_is_done_in_the_thread_and_its_failure_stops_no_work() -> None:
    where: list[str] = []

    def first() -> None:
        where.append(threading.current_thread().name)
        raise RuntimeError("cold")

    running = worker.Worker(first).start()
    assert ended(worker.ask("count", "ab", "Counting")).state == "done"
    running.stop()
    assert where == ["gudgeon-worker"]


def test_after_a_restart_what_was_under_way_says_interrupted_and_can_be_started_again() -> None:
    waiting = worker.ask("count", "ab", "Counting")
    models.Work.objects.filter(pk=waiting).update(state="running", progress=40)
    running = worker.Worker().start()
    running.stop()
    row = models.Work.objects.get(pk=waiting)
    assert (row.state, row.why) == ("interrupted", worker.INTERRUPTED)
    again = worker.again(waiting)
    assert worker.run_waiting() == 1
    assert ended(again).result == "abab"


def test_nobody_does_unknown_work() -> None:
    with pytest.raises(ValueError, match="nobody"):
        worker.ask("juggle", "", "Juggling")
