"""The committed tables are what the libraries and the numerical routes give today."""

import tomllib
from typing import Any

import numpy as np
import pytest
from tests.check_values import generate_libraries, generate_numerical
from tests.check_values.rows import HERE

pytestmark = pytest.mark.full


def held(table: str) -> dict[str, dict[str, Any]]:
    rows = tomllib.loads((HERE / f"{table}.toml").read_text("utf-8"))["check"]
    return {row["id"]: row for row in rows}


def numbers(expected: dict[str, Any]) -> list[float]:
    """Every number of a row's expected values, in order; words and units left out."""
    flat: list[float] = []
    for value in expected.values():
        bare = value[0] if isinstance(value, list) and isinstance(value[-1], str) else value
        flat += [] if isinstance(bare, str) else np.ravel(bare).astype(float).tolist()
    return flat


@pytest.mark.parametrize(
    ("table", "made"), [("libraries", generate_libraries.checks), ("numerical", generate_numerical.checks)]
)
def test_table_is_what_its_generator_makes(table: str, made: Any) -> None:
    rows = held(table)
    fresh = {str(row["id"]): row for row in made()}
    assert list(fresh) == list(rows)
    for key, row in fresh.items():
        assert np.allclose(numbers(row["expected"]), numbers(rows[key]["expected"]), rtol=1e-6, atol=1e-12), (
            key
        )
