"""Grading on a cluster of a scheduler and two workers, each a process: the same results, byte for byte."""

import json
import os
import signal
import subprocess
import sys
import time
from contextlib import ExitStack, contextmanager

import pytest

from tests.cli.boards import ROOT
from tests.grading.classroom import exercise_file, works

ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT), "DASK_DISTRIBUTED__LOGGING__DISTRIBUTED": "error"}
FORMS = ("csv", "json")


@contextmanager
def process(folder, *arguments):
    """A process of a group of its own, which is ended with all that it started."""
    with open(folder / "cluster.log", "ab") as log:
        run = subprocess.Popen(
            [sys.executable, "-m", *map(os.fspath, arguments)],
            cwd=folder,
            env=ENVIRONMENT,
            stdin=subprocess.DEVNULL,
            stdout=log,
            stderr=log,
            start_new_session=True,
        )
    try:
        yield run
    finally:
        if run.poll() is None:
            os.killpg(run.pid, signal.SIGKILL)
        run.wait(60)


@contextmanager
def cluster(folder, workers):
    """The address of a scheduler, with so many workers, and the processes of all of them."""
    place = folder / "scheduler.json"
    place.unlink(missing_ok=True)
    with ExitStack() as running:
        here = ("--host", "127.0.0.1")
        scheduler = running.enter_context(
            process(
                folder,
                "distributed.cli.dask_scheduler",
                *here,
                "--port",
                "0",
                "--no-dashboard",
                "--no-jupyter",
                "--scheduler-file",
                place,
            )
        )
        wait_for(lambda: place.exists() and place.read_text().strip().endswith("}"), scheduler)
        address = json.loads(place.read_text())["address"]
        own = [
            running.enter_context(
                process(
                    folder,
                    "distributed.cli.dask_worker",
                    address,
                    *here,
                    "--no-nanny",
                    "--no-dashboard",
                    "--nthreads",
                    "1",
                    "--local-directory",
                    folder / f"worker-{number}",
                )
            )
            for number in range(workers)
        ]
        log = folder / "cluster.log"
        wait_for(lambda: known(address) >= workers, scheduler, log)
        yield address, scheduler, own


def known(address):
    """How many workers the scheduler knows."""
    asked = f"from distributed import Client; print(len(Client({address!r}).nthreads()))"
    done = subprocess.run(
        [sys.executable, "-c", asked], env=ENVIRONMENT, capture_output=True, timeout=60, check=False
    )
    return int(done.stdout or 0)


def wait_for(there, running, log=None):
    until = time.monotonic() + 90
    while not there():
        assert running.poll() is None and time.monotonic() < until, log and log.read_text()
        time.sleep(0.1)


def grade(folder, *arguments):
    return subprocess.run(
        [sys.executable, "-m", "wirecheck", "grade", exercise_file("stair-light"), *arguments],
        cwd=folder,
        env=ENVIRONMENT,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        timeout=300,
        check=False,
    )


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """A folder with a class, and what it comes to in one process, by form."""
    folder = tmp_path_factory.mktemp("cluster")
    (folder / "class").mkdir()
    for name, text in works("stair-light", 70, seed=3):
        (folder / "class" / name).write_text(text)
    (folder / "class" / "empty.wire").write_text("")
    (folder / "class" / "bytes.wire").write_bytes(b"\xff\xfe\x00")
    expected = {}
    for form in FORMS:
        done = grade(folder, "class", "none.wire", "--jobs", "1", "--format", form)
        assert (done.returncode, done.stderr) == (0, b"")
        expected[form] = done.stdout
    return folder, expected


@pytest.mark.slow
def test_results_are_the_same_with_one_process_two_and_a_cluster(desk):
    folder, expected = desk
    for form in FORMS:
        done = grade(folder, "class", "none.wire", "--jobs", "2", "--format", form)
        assert (done.returncode, done.stderr, done.stdout) == (0, b"", expected[form])
    with cluster(folder, 2) as (address, _, _):
        for form in FORMS:
            done = grade(folder, "class", "none.wire", "--cluster", address, "--format", form)
            assert (done.returncode, done.stderr) == (0, b"")
            assert done.stdout == expected[form]
        few = ("class/empty.wire", *sorted(f"class/{each}" for each in os.listdir(folder / "class"))[:6])
        written = {}
        for name, where in (("here", ("--jobs", "2")), ("there", ("--cluster", address))):
            done = grade(folder, *few, *where, "--pages", name, "--record", f"{name}.db", "--format", "csv")
            assert (done.returncode, done.stderr) == (0, b"")
            written[name] = (
                done.stdout,
                {each.name: each.read_bytes() for each in (folder / name).iterdir()},
            )
        assert written["here"] == written["there"] and len(written["here"][1]) == 8


def run_out_of(one, folder, address, *options):
    """What a run comes to of which one of the cluster's processes is killed: its status, and what it says."""
    command = ["-m", "wirecheck", "grade", exercise_file("stair-light"), "class", "none.wire"]
    run = subprocess.Popen(
        [sys.executable, *command, "--cluster", address, "--format", "csv", *options],
        cwd=folder,
        env=ENVIRONMENT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    time.sleep(3)
    os.killpg(one.pid, signal.SIGKILL)
    said, errors = run.communicate(timeout=300)
    return run.returncode, said, errors


@pytest.mark.slow
def test_a_worker_that_is_killed_costs_nothing(desk):
    folder, expected = desk
    with cluster(folder, 2) as (address, _, (first, _)):
        code, said, errors = run_out_of(first, folder, address)
        assert (code, errors) == (0, b"")
        assert said == expected["csv"]


@pytest.mark.slow
def test_what_is_no_cluster_is_said_in_a_sentence(desk):
    folder, _ = desk
    for address in ("tcp://127.0.0.1:9", "nonsense", "tcp://nowhere.invalid:8786", ""):
        done = grade(folder, "class", "--cluster", address, "--record", "none.db")
        refused(done, address)
    with cluster(folder, 0) as (address, _, _):
        assert "it has no workers" in refused(grade(folder, "class", "--cluster", address), address)


@pytest.mark.slow
def test_a_scheduler_that_goes_away_ends_the_run_in_a_sentence_and_keeps_the_record(desk):
    folder, expected = desk
    with cluster(folder, 2) as (address, scheduler, _):
        code, said, errors = run_out_of(scheduler, folder, address, "--record", "term.db")
        assert code in (0, 2) and b"Traceback" not in errors
        assert code == 0 or (said == b"" and b"the cluster at " in errors)
    # What was done stays done, and the rest is done here.
    done = grade(folder, "class", "none.wire", "--format", "csv", "--record", "term.db")
    assert (done.returncode, done.stderr, done.stdout) == (0, b"", expected["csv"])


def refused(done, address):
    """What is said where a cluster cannot be used: one sentence, and nothing else."""
    said = done.stderr.decode()
    assert done.returncode == 2 and done.stdout == b"", said
    assert said.startswith("wirecheck: ") and said.count("\n") == 1, said
    assert f"the cluster at {address} cannot be used: " in said
    return said
