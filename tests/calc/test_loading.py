"""The formulas load fast: no heavy library comes with them."""

import subprocess
import sys

import pytest
from tests.calc.rooms import OWN_ROOMS


@pytest.mark.parametrize("heavy", ["scipy", "django", "msgspec"])
def test_heavy_libraries_are_not_loaded(heavy: str) -> None:
    lines = [f"import gudgeon.calc.{room}" for room in OWN_ROOMS]
    program = "\n".join([*lines, "import sys", f"print({heavy!r} in sys.modules)"])
    answer = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "False"
