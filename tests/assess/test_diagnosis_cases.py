"""Every written case: causes, scope, the next check, what is not possible, and the evidence named."""

import pytest
from tests.assess.diagnosis_cases import Case, cases, misses

SEEN = cases("seen_*.toml")


@pytest.mark.parametrize("case", SEEN, ids=lambda case: case.name)
def test_the_diagnosis_concludes_what_the_case_says(case: Case) -> None:
    assert misses(case) == []
