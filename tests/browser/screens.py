"""Every screen of the shop by name, for the tests that look at all of them and for the pictures."""

from io import BytesIO
from pathlib import Path

from tests.records.camera import photograph

from gudgeon.records.models import LeakTest
from gudgeon.records.queries import all_instruments
from gudgeon.records.services.condition import AnswerTyped, keep_report, write_answer
from gudgeon.records.services.entry import Form, Who, new_token
from gudgeon.records.services.photograph import PhotographTyped, add_photograph
from gudgeon.records.services.record import issue_record
from gudgeon.records.services.transfer import import_job
from gudgeon.records.worker import run_waiting

JOBS = Path(__file__).resolve().parents[2] / "examples" / "jobs"


def load_examples() -> dict[str, str]:
    """The three jobs of the invented shop; gives their numbers."""
    return {
        path.stem.rpartition("-")[2]: import_job(path.read_bytes(), Who("")).number
        for path in sorted(JOBS.glob("*.json"))
    }


def screens() -> dict[str, str]:
    """Name and address of every screen, with the examples loaded, one record issued and one report kept."""
    numbers = load_examples()
    complete, half, seized = (numbers[name] for name in ("complete", "way", "seized"))
    test = LeakTest.objects.filter(job__number=complete).order_by("pk").values_list("key", flat=True)[0]
    shot = photographs_of(half)
    photographs_of(complete)
    issue_record(complete, Who("MH"))
    keep_report(complete, Who("MH"))
    for answer, words in (("less", "Leave the clutch for the winter."), ("agreed", "Signed at the counter.")):
        write_answer(complete, 1, AnswerTyped(answer, words=words), new_token(), Who("MH"))
    run_waiting()
    return {
        "start": "/",
        "book-in": "/book-in/?arrival=will_not_turn",
        "as-booked": f"/jobs/{half}/as-booked/",
        "job": f"/jobs/{half}/",
        "job-seized": f"/jobs/{seized}/",
        "job-complete": f"/jobs/{complete}/",
        "diagnosis": f"/jobs/{half}/diagnosis/",
        "diagnosis-seized": f"/jobs/{seized}/diagnosis/",
        "diagnosis-complete": f"/jobs/{complete}/diagnosis/",
        "diagnosis-several": f"/jobs/{seized}/diagnosis/several/",
        "condition-report": f"/jobs/{half}/diagnosis/report/",
        "condition-report-unchanged": f"/jobs/{complete}/diagnosis/report/",
        "condition-report-kept": f"/jobs/{complete}/diagnosis/report/1/?check=yes",
        "leak-budget": f"/jobs/{complete}/diagnosis/budget/{test}/",
        "holding": f"/jobs/{half}/diagnosis/holding/",
        "compression": f"/jobs/{complete}/diagnosis/compression/",
        "over-hours": f"/jobs/{complete}/diagnosis/hours/",
        "leak-down": f"/jobs/{half}/leak/",
        "leak-down-result": f"/jobs/{complete}/leak/{test}/",
        "leak-down-correct": f"/jobs/{complete}/leak/{test}/correct/",
        "measure": f"/jobs/{half}/measure/",
        "measure-cylinder": f"/jobs/{complete}/measure/cylinder/",
        "measure-valve-train": f"/jobs/{half}/measure/valve-train/",
        "bench": f"/jobs/{half}/bench/",
        "bench-bore": f"/jobs/{complete}/bench/?at=bore_diameter|1|top/thrust",
        "bench-feeler": f"/jobs/{half}/bench/?just=bore_diameter|1|top/thrust&at=valve_clearance_in|1.in.1|",
        "bench-jobs": "/bench/?all",
        "slips": f"/jobs/{seized}/slips/",
        "decide": f"/jobs/{half}/decide/",
        "customer": f"/jobs/{complete}/customer/",
        "phones": "/phones/",
        "photographs": f"/jobs/{half}/photographs/",
        "photograph": f"/jobs/{half}/photographs/{shot}/",
        "record": f"/jobs/{half}/record/",
        "record-issued": f"/jobs/{complete}/record/1/?check=yes",
        "bring-in": "/bring-in/",
        "data-sheets": "/sheets/",
        "data-sheet": "/sheets/whinmoor-349/",
        "data-sheet-text": "/sheets/whinmoor-349/edit/",
        "sums": "/sums/",
        "sum": f"/sums/thinner-gasket/?job={complete}&volume_now=34.1",
        "gauges": "/gauges/",
        "gauge": f"/gauges/{gauge_key()}/",
        "people": "/people/",
        "shop": "/shop/",
        "health": "/health/",
        "backups": "/backups/",
        "not-there": "/nothing-here/",
    }


def gauge_key() -> str:
    """A gauge of the examples."""
    return all_instruments()[0].key


def photographs_of(number: str) -> str:
    """Three photographs on a job, one on its side and one without a word; gives the key of the first."""
    keys = []
    for n, (caption, part) in enumerate(
        (("Piston crown as it came out, thrust side to the left", "piston"), ("", None), ("Head", None))
    ):
        data = photograph((640, 480), n, orientation=6 if n == 1 else 1)
        typed = PhotographTyped(caption=caption, part=part, instance="1" if part else "")
        keys.append(add_photograph(number, BytesIO(data), typed, Form(new_token()), Who("MH")).fact.id)
    return keys[0]
