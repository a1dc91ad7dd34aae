"""The committed tables made again with the live libraries: what is committed is what they give today."""

import pytest
from tests.check_values import generate_cranking, generate_sums
from tests.check_values.rows import load, si

COMMITTED = {row.id: row for row in load()}


def _close(made: dict[str, object]) -> bool:
    row = COMMITTED[str(made["id"])]
    return all(
        value == row.expected[key]
        if isinstance(value, str | bool)
        else row.expected[key] == pytest.approx(si(value), rel=1e-5, abs=1e-9)
        for key, value in dict(made["expected"]).items()
    )


@pytest.mark.full
@pytest.mark.parametrize("name", list(generate_cranking.CASES))
def test_cantera_still_gives_the_cranking_table(name: str) -> None:
    case = generate_cranking.BASE | generate_cranking.CASES[name]
    assert all(_close(row) for row in generate_cranking.rows(name, case))


@pytest.mark.full
def test_the_other_road_still_gives_its_table() -> None:
    assert [row["id"] for row in generate_sums.rows() if not _close(row)] == []
