"""Does a child stop within its time, and leave a log that can be read?"""

import os
import select
import signal
import sys
import time

from contractor.local.processes import KEPT_LOGS, fresh_log, start

STUBBORN = """
import os, signal, time
signal.signal(signal.SIGTERM, signal.SIG_IGN)
if os.fork():
    print(os.getpid(), flush=True)
time.sleep(60)
"""
TALKER = """
import sys
for number in range(90):
    print(number, file=sys.stderr if number % 2 else sys.stdout, flush=True)
"""


def test_a_child_that_will_not_stop_is_ended_with_all_it_started(folder):
    reading, writing = os.pipe()  # both processes hold its other end
    command = [sys.executable, "-c", STUBBORN]
    child = start("stubborn", command, logs=folder, patience=0.2, keeps=(writing,))
    os.close(writing)
    while not child.last_lines():
        time.sleep(0.01)
    began = time.monotonic()
    child.stop()
    assert time.monotonic() - began < 2
    assert child.exit_code == -signal.SIGKILL
    assert select.select([reading], [], [], 5)[0]
    assert os.read(reading, 1) == b""
    os.close(reading)


def test_a_child_that_ended_by_itself_can_still_be_stopped(folder):
    child = start("short", [sys.executable, "-c", "raise SystemExit(3)"], logs=folder)
    child.process.wait()
    child.stop()
    assert child.exit_code == 3


def test_the_log_holds_both_outputs_and_its_end_is_short(folder):
    child = start("talker", [sys.executable, "-c", TALKER], logs=folder)
    child.process.wait()
    assert child.last_lines(30).split() == [str(number) for number in range(60, 90)]


def test_the_logs_of_the_last_few_starts_are_kept(folder):
    for number in range(KEPT_LOGS + 2):
        fresh_log(folder, "web").write_text(str(number))
    kept = {path.name: path.read_text() for path in folder.iterdir()}
    assert kept == {
        "web.log": "6",
        "web.log.1": "5",
        "web.log.2": "4",
        "web.log.3": "3",
        "web.log.4": "2",
    }
