#!/usr/bin/env python3
"""Everything a newcomer or a developer starts: ``python3 run.py demo | test | check | serve | docs``.

Needs Python 3.11 or newer and nothing else; makes an environment in ``.venv`` and keeps it in step with
the lock files.
"""

import argparse
import hashlib
import os
import re
import shutil
import subprocess
import sys
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
LOCKS = {"use": "requirements.txt", "test": "requirements-test.txt", "full": "requirements-full.txt"}
SYSTEM_PACKAGES = {
    "chromium": "a browser for the tests of the pages",
    "postgresql": "the second database",
    "iproute2": "a second device on a network of its own",
    "libatomic1": "the browser's driver",
    "openssl": "a certificate for the tests of the encrypted link",
}


def main() -> int:
    """Set up what the verb needs, then do it."""
    if sys.version_info < (3, 11):  # noqa: UP036  the one file that an older Python may be asked to read
        print(f"Gudgeon needs Python 3.11 or newer; this is {sys.version.split()[0]}.", file=sys.stderr)
        return 1
    arguments, rest = parser().parse_known_args()
    try:
        return int(arguments.verb(arguments, rest))
    except subprocess.CalledProcessError as error:
        print(f"Stopped: {Path(str(error.cmd[0])).name} ended with code {error.returncode}.", file=sys.stderr)
        return error.returncode or 1
    except KeyboardInterrupt:
        return 130


def parser() -> argparse.ArgumentParser:
    """The verbs and their options."""
    top = argparse.ArgumentParser(prog="run.py", description=(__doc__ or "").split("\n\n", maxsplit=1)[0])
    verbs = top.add_subparsers(required=True, metavar="demo | test | check | serve | docs")
    demo = verbs.add_parser("demo", help="an invented shop with three engines: assess one, then look round")
    demo.add_argument("--no-serve", action="store_true", help="stop after the printed result")
    demo.set_defaults(verb=run_demo)
    test = verbs.add_parser("test", help="linters, types, layers, all tests")
    test.add_argument(
        "--system", action="store_true", help="install what the tests need from the system where missing"
    )
    test.add_argument("--full", action="store_true", help="also live reference libraries and long studies")
    test.set_defaults(verb=run_test)
    verbs.add_parser("check", help="linters, types, layers only").set_defaults(verb=run_check)
    verbs.add_parser("serve", help="serve your own shop on this machine").set_defaults(verb=run_serve)
    verbs.add_parser("docs", help="make the reference pages again").set_defaults(verb=run_docs)
    return top


# --- the environment ---------------------------------------------------------------------------------


def set_up(kind: str) -> None:
    """Bring ``.venv`` in step with the lock file of this kind; nothing to do takes no time."""
    lock = ROOT / LOCKS[kind]
    digest = hashlib.sha256(lock.read_bytes()).hexdigest()
    stamp = VENV / f"installed-{kind}"
    if stamp.exists() and stamp.read_text() == digest and PYTHON.exists():
        return
    started = time.monotonic()
    print(f"Setting up: {lock.name} into .venv …", flush=True)
    if not PYTHON.exists():
        import venv

        venv.create(VENV, with_pip=True)
    install(lock)
    link_source()
    stamp.write_text(digest)
    print(f"Set up in {time.monotonic() - started:.0f} s.", flush=True)


def install(lock: Path) -> None:
    """Install a lock file, every archive checked against its hash."""
    uv = shutil.which("uv")
    tool = [uv, "pip", "install", "--python", str(PYTHON)] if uv else [str(PYTHON), "-m", "pip", "install"]
    quiet = ["--quiet"] if uv else ["--quiet", "--disable-pip-version-check", "--no-input"]
    run([*tool, *quiet, "--require-hashes", "--no-deps", "-r", str(lock)])


def link_source() -> None:
    """Let the environment's Python see ``src`` as it stands."""
    code = "import sysconfig; print(sysconfig.get_path('purelib'))"
    site = subprocess.run([PYTHON, "-c", code], check=True, capture_output=True, text=True).stdout.strip()
    (Path(site) / "gudgeon-source.pth").write_text(str(ROOT / "src") + "\n", encoding="utf-8")


def run(command: list[str], **environment: str) -> None:
    """Run a program here; a failure ends the run."""
    subprocess.run(command, cwd=ROOT, check=True, env={**os.environ, **environment})


def gudgeon(*words: str, **environment: str) -> None:
    """Run the ``gudgeon`` command of this tree."""
    run([str(PYTHON), "-m", "gudgeon", *words], **environment)


# --- verbs -------------------------------------------------------------------------------------------


def run_demo(arguments: argparse.Namespace, rest: list[str]) -> int:
    """The invented shop, in a folder of its own that is never emptied."""
    set_up("use")
    folder = str(ROOT / "demo-shop")  # never the builder's own shop, whatever the environment says
    words = [
        "demo",
        "--examples",
        str(ROOT / "examples"),
        *(["--no-serve"] if arguments.no_serve else []),
        *rest,
    ]
    gudgeon(*words, GUDGEON_DATA=folder)
    return 0


def run_serve(_arguments: argparse.Namespace, rest: list[str]) -> int:
    """The builder's own shop."""
    set_up("use")
    gudgeon("serve", *rest)
    return 0


def run_docs(_arguments: argparse.Namespace, _rest: list[str]) -> int:
    """The reference pages, made again from the code and the trade's data."""
    set_up("test")
    run([str(PYTHON), "docs/generate.py"])
    return 0


def run_check(_arguments: argparse.Namespace, _rest: list[str]) -> int:
    """What needs no test to run."""
    set_up("test")
    return finish([run_lane(checks())])


def run_test(arguments: argparse.Namespace, rest: list[str]) -> int:
    """Everything, in two lanes (there are two cores); ``rest`` goes to one plain pytest run instead."""
    set_up("full" if arguments.full else "test")
    if arguments.system or os.environ.get("CI") == "true":
        install_system_packages()
    if rest:
        return subprocess.run([str(PYTHON), "-m", "pytest", *rest], cwd=ROOT, check=False).returncode
    full = {"GUDGEON_FULL": "1"} if arguments.full else {}
    return finish(
        both_lanes(
            [
                checks() + shop_tests() + database_tests() + process_tests() + clone_test(),
                unit_tests(full) + page_tests(),
            ]
        )
    )


# --- what the tests need from the system --------------------------------------------------------------


PROGRAMS = {"chromium": "chromium", "iproute2": "ip", "openssl": "openssl", "postgresql": "initdb"}
# What Debian keeps off the search path.
ASIDE = {"postgresql": "lib/postgresql/*/bin/initdb", "libatomic1": "lib/*/libatomic.so.1"}


def have(package: str) -> bool:
    """Whether what this package brings is on the system."""
    aside = list(Path("/usr").glob(ASIDE[package])) if package in ASIDE else []
    return bool(aside) or (package in PROGRAMS and shutil.which(PROGRAMS[package]) is not None)


def install_system_packages() -> None:
    """Install from the distribution what is missing."""
    missing = [package for package in SYSTEM_PACKAGES if not have(package)]
    if not missing:
        return
    if not shutil.which("apt-get"):
        print(f"Install these with your system's package manager: {', '.join(missing)}.", file=sys.stderr)
        return
    print(f"Installing {', '.join(f'{name} ({SYSTEM_PACKAGES[name]})' for name in missing)} …", flush=True)
    keep_postgresql_quiet()
    quietly = {"DEBIAN_FRONTEND": "noninteractive"}
    run(["apt-get", "-qq", "update"], **quietly)
    run(["apt-get", "-qq", "install", "-y", "--no-install-recommends", *missing], **quietly)


def keep_postgresql_quiet() -> None:
    """The tests start a cluster of their own: the distribution need not make and start one."""
    folder = Path("/etc/postgresql-common")
    if not (folder / "createcluster.conf").exists():
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "createcluster.conf").write_text("create_main_cluster = false\n")


# --- lanes --------------------------------------------------------------------------------------------


@dataclass
class Step:
    """One program of the test run."""

    name: str
    command: list[str]
    environment: dict[str, str] = field(default_factory=dict)
    code: int = 0
    seconds: float = 0.0
    output: str = ""


def checks() -> list[Step]:
    """Linters (with the security rules), types, layers."""
    tools = str(BIN)
    return [
        Step("ruff", [f"{tools}/ruff", "check", "."]),
        Step("format", [f"{tools}/ruff", "format", "--check", "."]),
        Step("layers", [f"{tools}/lint-imports", "--no-cache"]),
        Step("types", [f"{tools}/mypy"]),
    ]


def pytest(name: str, *words: str, **environment: str) -> Step:
    """One run of pytest."""
    return Step(name, [str(PYTHON), "-m", "pytest", "-q", *words], environment)


SHOP = ("tests/records", "tests/migrations", "tests/web", "tests/cli", "tests/report")
QUICK = "not browser and not postgres and not process and not clone"


def unit_tests(full: dict[str, str]) -> list[Step]:
    """Formulas, the trade's data, verdicts, sums: what needs no shop, no paper and no page."""
    aside = [f"--ignore={folder}" for folder in (*SHOP, "tests/browser")]
    return [pytest("unit", "-m", QUICK, "--durations=8", *aside, **full)]


def shop_tests() -> list[Step]:
    """Tables and services on SQLite, pages without a browser, commands, paper."""
    return [pytest("shop", "-m", QUICK, "--durations=8", *SHOP)]


def database_tests() -> list[Step]:
    """The tables and their services once more, on PostgreSQL."""
    command = [str(PYTHON), "-m", "tests.postgres", "--", str(PYTHON), "-m", "pytest", "-q", "tests/records"]
    return [Step("postgresql", command)]


def process_tests() -> list[Step]:
    """Kills, full disks, backups and commands, with real processes."""
    return [pytest("processes", "-m", "process and not browser")]


def page_tests() -> list[Step]:
    """The journeys in Chromium."""
    return [pytest("browser", "-m", "browser", "tests/browser")]


def clone_test() -> list[Step]:
    """The demo on a clean clone."""
    return [pytest("clean clone", "-m", "clone", "tests/house")]


def run_lane(steps: list[Step]) -> list[Step]:
    """Run steps one after the other, telling of each when it ends."""
    for step in steps:
        started = time.monotonic()
        done = subprocess.run(
            step.command,
            cwd=ROOT,
            env={**os.environ, **step.environment},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
            errors="replace",
            check=False,
        )
        step.code, step.output, step.seconds = done.returncode, done.stdout, time.monotonic() - started
        mark = "ok" if step.code == 0 else f"FAILED ({step.code})"
        print(f"\n== {step.name}: {mark}, {step.seconds:.0f} s\n{step.output.strip()}", flush=True)
    return steps


def both_lanes(lanes: list[list[Step]]) -> list[list[Step]]:
    """Run lanes beside each other."""
    threads = [threading.Thread(target=run_lane, args=(lane,)) for lane in lanes]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return lanes


def finish(lanes: list[list[Step]]) -> int:
    """The closing lines: each step's time, tests counted, and the verdict."""
    steps = [step for lane in lanes for step in lane]
    print("\n" + "\n".join(f"{step.name:12} {step.seconds:6.1f} s  code {step.code}" for step in steps))
    words = {
        word: sum(count(word, step.output) for step in steps) for word in ("passed", "failed", "skipped")
    }
    failed = words["failed"] + sum(count("error", step.output) for step in steps)
    broken = [step.name for step in steps if step.code]
    if os.environ.get("CI") == "true" and words["skipped"]:
        broken.append(f"{words['skipped']} skipped, and nothing may skip here")
    if broken:
        print(f"Not in order: {', '.join(broken)}.")
    if words["passed"] or failed:
        print(f"{words['passed']} passed, {max(failed, len(broken))} failed, {words['skipped']} skipped")
    return 1 if broken else 0


def count(word: str, output: str) -> int:
    """How many tests pytest's closing line reports under this word."""
    closing = [
        line for line in output.splitlines() if re.search(r"\d+ (passed|failed|error).* in [\d.]+s", line)
    ]
    found = re.search(rf"(\d+) {word}", closing[-1]) if closing else None
    return int(found.group(1)) if found else 0


if __name__ == "__main__":
    sys.exit(main())
