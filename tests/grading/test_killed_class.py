"""The grading of a class that is killed at any moment and begun again ends as if nothing had happened.

The moments are random and the same in every run; what they hit depends on how fast the machine is.
"""

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing

import pytest

from tests.cli.boards import ROOT
from tests.grading.classroom import exercise_file, works
from wirecheck.record import opened

WORKS = 60
KILLS = 50
FORMS = ("csv", "json")


def begun(folder, name, form):
    return subprocess.Popen(
        [
            *(
                sys.executable,
                "-W",
                "error",
                "-m",
                "wirecheck",
                "grade",
                exercise_file("stair-light"),
                "class",
            ),
            *("--record", f"{name}.db", "--pages", name, "--format", form, "-o", f"{name}.out"),
            # Other work on the machine is no work's fault.
            *("--seconds", "900"),
        ],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        start_new_session=True,
    )


def killed(run, record, dice):
    """Kill a run at some moment; whether it was still running."""
    before = record.stat().st_mtime_ns if record.exists() else 0
    # Most moments are counted from where the record grows: before that, there is little to lose.
    waits = dice.random() < 0.8
    left = time.monotonic() + (60 if waits else dice.uniform(0, 3))
    while run.poll() is None and time.monotonic() < left:
        if waits and record.exists() and record.stat().st_mtime_ns != before:
            time.sleep(dice.choice((0, dice.uniform(0, 0.02), dice.uniform(0, 0.5))))
            break
        time.sleep(0.005)
    if run.poll() is not None:
        return False
    os.killpg(run.pid, signal.SIGKILL)
    run.communicate(timeout=60)
    return True


def pages(folder):
    """The pages that were written; what a kill left of one has a hidden name."""
    return {each.name: each.read_bytes() for each in folder.iterdir() if each.name[0] != "."}


def recorded(path):
    """The attempts that a listing shows, in the order in which they were added; the record is whole."""
    if not path.exists():
        return []
    with closing(sqlite3.connect(path)) as kept:
        assert kept.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        if not kept.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]:
            return []
        rows = kept.execute("SELECT * FROM attempt ORDER BY id").fetchall()
    with opened(path, new=False) as record:
        assert len(list(record.attempts())) == len(rows)
    return rows


@pytest.mark.slow
def test_a_run_killed_at_fifty_moments_ends_with_the_same_result(tmp_path):
    (tmp_path / "class").mkdir()
    for name, text in works("stair-light", WORKS, seed=11):
        (tmp_path / "class" / name).write_text(text)
    whole = {}
    for form in FORMS:
        run = begun(tmp_path, form, form)
        assert (run.communicate(timeout=300)[1], run.returncode) == (b"", 0)
        whole[form] = ((tmp_path / f"{form}.out").read_bytes(), pages(tmp_path / form))
    assert len(recorded(tmp_path / "csv.db")) == WORKS

    dice = random.Random(15)
    kills, rounds, hit = 0, 0, set()
    while kills < KILLS or rounds < 2:
        name, form = f"round-{rounds}", FORMS[rounds % 2]
        shown = []
        while True:
            run = begun(tmp_path, name, form)
            record = tmp_path / f"{name}.db"
            hurt = kills < KILLS and killed(run, record, dice)
            kills += hurt
            if not hurt:
                assert (run.communicate(timeout=300)[1], run.returncode) == (b"", 0)
            now = recorded(record)
            assert now[: len(shown)] == shown, "what was shown before is there no more"
            shown = now
            if not hurt:
                break
            hit.add(len(shown))
        # It is done: once for each work, in one run, and with the results of a run that nobody disturbed.
        assert len(shown) == WORKS == len({row[4] for row in shown}) and {row[1] for row in shown} == {1}
        with closing(sqlite3.connect(tmp_path / f"{name}.db")) as kept:
            assert kept.execute("SELECT run FROM finished").fetchall() == [(1,)]
        assert ((tmp_path / f"{name}.out").read_bytes(), pages(tmp_path / name)) == whole[form]
        rounds += 1
    assert kills == KILLS and len(hit) > 5
