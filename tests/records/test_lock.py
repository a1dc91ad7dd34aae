"""One server for one folder; a killed one lets go."""

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from gudgeon.records.lock import AlreadyServing, acquire_lock, is_served

HOLDER = """
import sys, time
from pathlib import Path
from gudgeon.records.lock import acquire_lock
lock = acquire_lock(Path(sys.argv[1]))
lock.serving_on(4321)
print("held", flush=True)
time.sleep(60)
"""


def test_a_second_start_learns_where_the_first_answers_even_from_another_process(tmp_path: Path) -> None:
    with subprocess.Popen([sys.executable, "-c", HOLDER, str(tmp_path)], stdout=subprocess.PIPE) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == b"held\n"
        with pytest.raises(AlreadyServing) as caught:
            acquire_lock(tmp_path)
        assert (caught.value.pid, caught.value.address) == (holder.pid, "http://127.0.0.1:4321/")
        assert is_served(tmp_path)
        holder.send_signal(signal.SIGKILL)
        holder.wait()
    assert not is_served(tmp_path)
    with acquire_lock(tmp_path, 5000):
        assert is_served(tmp_path)


def test_a_folder_let_go_can_be_taken_again(tmp_path: Path) -> None:
    acquire_lock(tmp_path, 1).release()
    with acquire_lock(tmp_path), pytest.raises(AlreadyServing) as caught:
        acquire_lock(tmp_path)
    assert caught.value.address == ""


def test_a_folder_nobody_has_is_not_served(tmp_path: Path) -> None:
    assert not is_served(tmp_path)
    assert list(tmp_path.iterdir()) == []
