"""The tree keeps its own rules: form, size, and words that must not be in it."""

import ast
import re
import statistics
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "gudgeon"
PICTURES_AND_FONTS = {".svg", ".png", ".woff2", ".otf", ".ttf", ".pdf", ".ico", ".sqlite3", ".gz"}
# Spelled in pieces, so that this file passes its own reading.
FORBIDDEN = re.compile(
    "|".join(
        [r"/wo" r"rk/", r"/fa" r"rm/", r"--?index" r"-url", r"\bTO" r"DO\b", r"\bFIX" r"ME\b", r"\bXX" r"X\b"]
    )
    + r"|https?://\S*(?:pyp"
    r"i|npm"
    r"js|deb"
    r"ian)"
)


def tracked() -> list[Path]:
    """Every text file that git keeps."""
    names = subprocess.run(["git", "ls-files"], cwd=ROOT, check=True, capture_output=True, text=True).stdout
    paths = [ROOT / name for name in names.splitlines()]
    return [path for path in paths if path.suffix not in PICTURES_AND_FONTS and path.is_file()]


def modules() -> list[Path]:
    """Our own Python, without Django's written-out migrations."""
    return [path for path in SOURCE.rglob("*.py") if "migrations" not in path.parts]


def functions(path: Path) -> Iterator[tuple[str, int]]:
    """Each function's name and its lines without the docstring."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            docstring = ast.get_docstring(node, clean=False)
            length = (node.end_lineno or node.lineno) - node.lineno + 1
            yield node.name, length - (docstring.count("\n") + 1 if docstring else 0)


def test_no_path_of_a_machine_no_host_of_packages_no_loose_end_is_in_the_tree() -> None:
    found = [
        f"{path.relative_to(ROOT)}:{number}"
        for path in tracked()
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if len(line) < 2000 and FORBIDDEN.search(line)
    ]
    assert found == []


@pytest.mark.parametrize("lock", sorted(path.name for path in ROOT.glob("requirements*.txt")))
def test_a_lock_names_no_host_and_checks_every_archive(lock: str) -> None:
    text = (ROOT / lock).read_text(encoding="utf-8")
    assert "://" not in text
    pinned = len(re.findall(r"^[a-z0-9._-]+==", text, re.MULTILINE))
    assert pinned > 10
    assert text.count("--hash=sha256:") >= pinned


def test_no_file_is_longer_than_400_lines() -> None:
    assert [path.name for path in modules() if path.read_text(encoding="utf-8").count("\n") > 400] == []


def test_functions_are_short() -> None:
    lengths = {f"{path.name}:{name}": length for path in modules() for name, length in functions(path)}
    assert [name for name, length in lengths.items() if length > 60] == []
    ordered = sorted(lengths.values())
    assert statistics.median(ordered) <= 8
    assert ordered[int(0.9 * len(ordered))] < 30


def test_there_is_no_junk_drawer() -> None:
    assert [path.name for path in modules() if path.stem in {"utils", "common", "helpers", "misc"}] == []


def test_every_exception_that_is_caught_is_answered() -> None:
    silent = [
        f"{path.name}:{node.lineno}"
        for path in modules()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ExceptHandler) and len(node.body) == 1 and isinstance(node.body[0], ast.Pass)
    ]
    assert silent == []


def test_every_exception_from_a_linter_carries_its_reason() -> None:
    bare = re.compile(r"#\s*noqa(?::\s*[A-Z0-9, ]+)?\s*$|#\s*type:\s*ignore(?:\[[^\]]*\])?\s*$|#\s*nosec\s*$")
    found = [
        f"{path.name}:{number}"
        for path in [*modules(), ROOT / "run.py"]
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if bare.search(line)
    ]
    assert found == []
