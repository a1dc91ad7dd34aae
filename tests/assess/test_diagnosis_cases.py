"""Every written case: causes, scope, the next check, what is not possible, and the evidence named."""

import pytest
from tests.assess.diagnosis_cases import Case, cases, misses

CASES = cases()


def test_half_of_the_cases_were_written_without_the_rules() -> None:
    blind = [case for case in CASES if case.told["written"] == "from the trade's text"]
    assert len(CASES) >= 40
    assert len(blind) >= len(CASES) / 2


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_diagnosis_concludes_what_the_case_says(case: Case) -> None:
    assert misses(case) == []
