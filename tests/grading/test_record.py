"""The record: runs add to it, nothing in it changes, and whatever ends a run, it goes on where it was."""

import hashlib
import os
import random
import signal
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from wirecheck import record
from wirecheck.grading.marks import ByEye
from wirecheck.grading.sheet import Sheet, StageScore
from wirecheck.record import HandedIn, NameTaken, NoRecord, Task, opened

ROOT = Path(__file__).parent.parent.parent
NOW = datetime(2026, 1, 5, 8, 30, tzinfo=UTC)
LATER = NOW + timedelta(days=1)
TASK = Task("Shed", "e0", None, 2, ("ana.wire", "bo.wire", "cy.wire"), "1.0")


def sheet(file="ana.wire", student="Ana", score=25.0, stage="trim", **more):
    return Sheet(file, student, "Shed", (StageScore(stage, 30.0, score, False),), **more)


@pytest.fixture
def path(tmp_path):
    return tmp_path / "marks.db"


@pytest.fixture(autouse=True)
def no_waiting_for_the_disk(monkeypatch):
    """What is written goes as far as the system, as it does where a process alone ends."""
    connected = record._connected

    def quick(path):
        connection = connected(path)
        connection.execute("PRAGMA synchronous = OFF")
        return connection

    monkeypatch.setattr(record, "_connected", quick)


def graded(path, *works, task=TASK, now=NOW, finish=True):
    """One run that grades works, each a file and a sheet; its bytes have the file's name as their digest."""
    with opened(path) as kept:
        run = kept.begin(task, now)
        for file, one in works:
            run.add(file, file, one)
        if finish:
            run.finish()
        return run


# ---------------------------------------------------------------- runs


def test_what_a_run_did_is_there_with_all_that_was_known_of_it(path):
    graded(path, ("ana.wire", sheet()), ("bo.wire", sheet("bo.wire", "Bo", refused="It is empty.")))
    with opened(path) as kept:
        first, second = kept.attempts()
    assert first == (1, "2026-01-05T08:30:00Z", "1.0", "e0", None, 2, "ana.wire", "ana.wire", sheet())
    assert (second.file, second.sheet.refused) == ("bo.wire", "It is empty.")


def test_a_run_that_was_finished_is_begun_anew_and_adds(path):
    graded(path, ("ana.wire", sheet(score=10.0)))
    run = graded(path, ("ana.wire", sheet(score=20.0)), now=LATER)
    assert (run.number, run.done) == (2, {})
    with opened(path) as kept:
        assert [(one.run, one.at[:10], one.sheet.score) for one in kept.attempts()] == [
            (1, "2026-01-05", 10.0),
            (2, "2026-01-06", 20.0),
        ]


def test_a_run_that_was_ended_goes_on_where_it_was(path):
    graded(path, ("ana.wire", sheet()), finish=False)
    with opened(path) as kept:
        run = kept.begin(TASK, LATER)
        assert (run.number, run.done) == (1, {("ana.wire", "ana.wire"): sheet()})
        run.add("bo.wire", "b1", sheet("bo.wire", "Bo"))
        run.finish()
    with opened(path) as kept:
        assert [(one.run, one.file, one.at[:10]) for one in kept.attempts()] == [
            (1, "ana.wire", "2026-01-05"),
            (1, "bo.wire", "2026-01-06"),
        ]
        assert kept.begin(TASK, LATER).done == {}


def test_the_order_in_which_files_are_given_makes_no_other_run(path):
    graded(path, ("ana.wire", sheet()), finish=False)
    same = TASK._replace(files=(*reversed(TASK.files), "ana.wire"))
    assert graded(path, task=same, finish=False).number == 1


@pytest.mark.parametrize(
    "other",
    [
        {"exercise": "Barn"},
        {"exercise_digest": "e1"},
        {"stage": "trim"},
        {"effort": 3},
        {"version": "1.1"},
        {"files": TASK.files[:2]},
        {"files": ("ana.wirebo.wire", "cy.wire")},
    ],
)
def test_a_run_goes_on_only_where_all_of_its_task_is_the_same(path, other):
    graded(path, ("ana.wire", sheet()), finish=False)
    run = graded(path, task=TASK._replace(**other), finish=False)
    assert (run.number, run.done) == (2, {})
    assert graded(path, finish=False).number == 1


def test_a_work_that_changed_meanwhile_is_another_and_both_are_kept(path):
    graded(path, ("ana.wire", sheet(score=5.0)), finish=False)
    with opened(path) as kept:
        run = kept.begin(TASK, LATER)
        assert ("ana.wire", "other bytes") not in run.done
        run.add("ana.wire", "other bytes", sheet(score=30.0))
    with opened(path) as kept:
        assert [one.sheet.score for one in kept.attempts()] == [5.0, 30.0]
        assert [one.scored.score.score for one in kept.marks()] == [30.0]


def test_what_was_added_twice_is_there_once_as_it_was_first(path):
    graded(path, ("ana.wire", sheet(score=5.0)), ("ana.wire", sheet(score=6.0)))
    with opened(path) as kept:
        assert [one.sheet.score for one in kept.attempts()] == [5.0]


@pytest.mark.parametrize("stop", [KeyboardInterrupt, SystemExit, ValueError])
def test_what_was_done_is_kept_whatever_ends_the_work(path, stop):
    with pytest.raises(stop), opened(path) as kept:
        run = kept.begin(TASK, NOW)
        for file in TASK.files:
            run.add(file, "d", sheet(file))
        raise stop
    with opened(path) as kept:
        assert len(kept.begin(TASK, NOW).done) == 3


def test_an_end_in_the_middle_of_the_writing_leaves_none_of_it_and_the_next_writes_all(path, monkeypatch):
    with opened(path) as kept:
        run = kept.begin(TASK, NOW)
        run._next = float("inf")
        for file in TASK.files:
            run.add(file, "d", sheet(file))

        def stopped(one):
            monkeypatch.undo()
            raise KeyboardInterrupt

        monkeypatch.setattr(record, "as_json", stopped)
        with pytest.raises(KeyboardInterrupt):
            run.save()
        assert not kept._connection.in_transaction
        run.save()
    with opened(path) as kept:
        assert [one.file for one in kept.attempts()] == list(TASK.files)


def test_writing_takes_a_tenth_of_the_time_at_most_and_what_comes_seldom_is_written_at_once(
    path, monkeypatch
):
    clock = [0.0]
    monkeypatch.setattr(record.time, "monotonic", lambda: clock[0])

    def slow(one):
        clock[0] += 0.5
        return record_as_json(one)

    record_as_json = record.as_json
    monkeypatch.setattr(record, "as_json", slow)
    with opened(path) as kept:
        run = kept.begin(TASK, NOW)
        waiting = []
        for number in range(30):
            run.add(f"{number}.wire", "d", sheet())
            waiting.append(run.waiting)
            clock[0] += 1.0
    assert waiting[:6] == [0, 1, 2, 3, 4, 0]
    assert max(waiting) < 30


def test_names_are_kept_as_they_are_whatever_is_in_them(path):
    """A name that is no UTF-8, halves of characters, quotes, a character of nothing."""
    names = [
        "\udcff.wire",
        "\udcfe.wire",
        "\ufffd.wire",
        "'; DROP TABLE run; --.wire",
        "a\x00b",
        "",
        "\ud800",
    ]
    with opened(path) as kept:
        run = kept.begin(Task("\ud800", "e", None, 0, tuple(names)), NOW)
        for name in names:
            run.add(name, "d", sheet(name, name))
    with opened(path) as kept:
        done = kept.begin(Task("\ud800", "e", None, 0, tuple(names)), NOW).done
        assert {file: one.student for (file, _), one in done.items()} == {name: name for name in names}
        assert sorted(mark.student for mark in kept.marks() if mark.student != "\ufffd.wire") == sorted(
            name for name in names if name != "\ufffd.wire"
        )


# ---------------------------------------------------------------- what the instructor judged


def test_what_was_judged_by_eye_stands_beside_the_tools_and_the_newest_counts(path):
    graded(path, ("ana.wire", sheet(score=20.0)))
    with opened(path) as kept:
        kept.by_eye("Ana", "Shed", "trim", 28, "neat", NOW)
        kept.by_eye("ana", "shed", "trim", 26.5, "but one staple", LATER)
        kept.by_eye("Di", "Shed", "final", 0, "was not there", LATER)
    with opened(path, new=False) as kept:
        ana, di = kept.marks()
        assert (ana.student, ana.scored.score.score, ana.counts) == ("Ana", 20.0, 26.5)
        assert [one.note for one in ana.by_eye] == ["neat", "but one staple"]
        assert (di.scored, di.counts) == (None, 0.0)
        assert kept.judged_by_eye()[2] == ByEye(
            "2026-01-06T08:30:00Z", "Di", "Shed", "final", 0.0, "was not there"
        )


@pytest.mark.parametrize("points", [-1.0, float("nan"), float("inf")])
def test_points_by_eye_are_a_number_and_no_debt(path, points):
    with opened(path) as kept:
        with pytest.raises(ValueError):
            kept.by_eye("Ana", "Shed", "trim", points, "", NOW)
        assert kept.judged_by_eye() == ()


def test_marks_are_of_the_newest_attempt_at_each_stage(path):
    graded(path, ("ana.wire", sheet(score=1.0, stage="rough-in")))
    graded(path, ("ana.wire", sheet(score=2.0, stage="trim")), task=TASK._replace(stage="trim"))
    graded(path, ("ana2.wire", sheet(score=3.0, stage="rough-in")))
    with opened(path) as kept:
        assert [(one.stage, one.counts, one.scored.file) for one in kept.marks()] == [
            ("rough-in", 3.0, "ana2.wire"),
            ("trim", 2.0, "ana.wire"),
        ]
        assert [one.stage for one in kept.attempts()] == [None, "trim", None]


def test_a_time_is_kept_in_utc(path):
    graded(path, ("ana.wire", sheet()), now=datetime(2026, 1, 5, 1, 0, tzinfo=timezone(timedelta(hours=5))))
    with opened(path) as kept:
        assert next(kept.attempts()).at == "2026-01-04T20:00:00Z"


def test_nothing_in_it_can_be_changed_or_deleted_by_any_program(path):
    graded(path, ("ana.wire", sheet()))
    with opened(path) as kept:
        kept.by_eye("Ana", "Shed", "trim", 28, "neat", NOW)
    connection = sqlite3.connect(path)
    for table in ("run", "finished", "attempt", "stage_score", "by_eye"):
        assert connection.execute(f"SELECT count(*) FROM {table}").fetchone() == (1,)
        for wrong in (f"DELETE FROM {table}", f"UPDATE {table} SET rowid = 7"):
            with pytest.raises(sqlite3.IntegrityError, match="what is recorded stays as it is"):
                connection.execute(wrong)
    connection.close()


# ---------------------------------------------------------------- what cannot be a record


def refused(path, **how):
    with pytest.raises(NoRecord) as caught, opened(path, **how) as kept:
        kept.by_eye("Ana", "Shed", "trim", 1.0, "", NOW)
    return str(caught.value)


def test_a_board_a_folder_and_what_is_no_file_are_refused_in_words_and_left_alone(tmp_path):
    board, link, folder, pipe = (tmp_path / name for name in ("b.WIRE", "link.db", "folder", "pipe"))
    board.write_bytes(b"")
    link.symlink_to(board)
    folder.mkdir()
    os.mkfifo(pipe)
    said = "cannot be used as the record:"
    for each in (board, link, tmp_path / "new.wire"):
        assert refused(each) == f"{each} {said} it ends in .wire, as boards and parts do."
    assert refused(folder) == f"{folder} {said} it is a folder."
    assert refused(pipe) == f"{pipe} {said} it is a pipe, a socket or a device, not a file."
    assert refused("/dev/null") == f"/dev/null {said} it is a pipe, a socket or a device, not a file."
    assert refused(tmp_path / "no" / "marks.db").endswith(f"{said} the folder for it is not there.")
    assert refused(tmp_path / "marks.db", new=False).endswith(f"{said} there is no such file or folder.")
    assert refused(tmp_path / "a\0b").endswith(f"{said} embedded null byte.")
    assert (board.read_bytes(), sorted(one.name for one in tmp_path.iterdir())) == (
        b"",
        ["b.WIRE", "folder", "link.db", "pipe"],
    )


@pytest.mark.parametrize("content", [b"x", b"student,trim\r\n" * 99, b"SQLite format 3\0", b"\0" * 4096])
def test_a_file_of_another_kind_is_refused_and_left_alone(path, content):
    path.write_bytes(content)
    assert refused(path).endswith(("it is not a record.", "it is damaged."))
    assert path.read_bytes() == content


def test_a_database_of_something_else_is_refused_and_left_alone(path):
    for made in ("CREATE TABLE run (id)", "PRAGMA user_version = 1", "PRAGMA application_id = 7"):
        path.unlink(missing_ok=True)
        connection = sqlite3.connect(path)
        connection.execute(made)
        connection.close()
        before = path.read_bytes()
        assert refused(path).endswith("it is a database of something else.")
        assert path.read_bytes() == before


def test_an_empty_file_becomes_a_record(path):
    path.write_bytes(b"")
    graded(path, ("ana.wire", sheet()))
    with opened(path) as kept:
        assert len(list(kept.attempts())) == 1


def test_names_that_mean_something_to_sqlite_are_names(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name in (":memory:", "file:marks.db?mode=memory", "a%20b#c"):
        graded(name, ("ana.wire", sheet()))
    assert sorted(os.listdir()) == [":memory:", "a%20b#c", "file:marks.db?mode=memory"]


@pytest.mark.parametrize("cut", [5000, 20_000])
def test_one_that_is_damaged_is_refused(path, cut):
    graded(path, *((f"{number}.wire", sheet()) for number in range(100)))
    data = bytearray(path.read_bytes())
    data[cut : cut + 4096] = b"\xff" * 4096
    path.write_bytes(data)
    with pytest.raises(NoRecord, match="it is damaged"), opened(path) as kept:
        list(kept.attempts())


def test_a_sheet_that_is_damaged_is_refused(path):
    graded(path, ("ana.wire", sheet()), finish=False)
    connection = sqlite3.connect(path)
    connection.execute("DROP TRIGGER attempt_stands_at_update")
    for wrong in ("'{'", "CAST(x'80' AS TEXT)"):
        connection.execute(f"UPDATE attempt SET sheet = {wrong}")
        connection.commit()
        with pytest.raises(NoRecord, match="it is damaged"), opened(path) as kept:
            kept.begin(TASK, NOW)
        with pytest.raises(NoRecord, match="it is damaged"), opened(path) as kept:
            list(kept.attempts())
    connection.execute("DROP TABLE attempt")
    connection.commit()
    connection.close()
    with pytest.raises(NoRecord, match="it is damaged \\(no such table"), opened(path) as kept:
        kept.marks()


@pytest.fixture
def place():
    """A folder that another user can look into."""
    with tempfile.TemporaryDirectory() as folder:
        os.chmod(folder, 0o755)
        yield Path(folder)


@contextmanager
def as_somebody():
    """As a user without an administrator's rights."""
    user = os.geteuid()
    os.seteuid(user or 65534)
    try:
        yield
    finally:
        os.seteuid(user)


@pytest.mark.parametrize("locked", ["file", "folder"])
def test_one_that_can_only_be_read_is_read_and_not_written_to(place, locked):
    path = place / "marks.db"
    graded(path, ("ana.wire", sheet()))
    path.chmod(0o444 if locked == "file" else 0o666)
    place.chmod(0o777 if locked == "file" else 0o555)
    before = path.read_bytes()
    only = f"{path} cannot be used as the record: it, or the folder it is in, can only be read."
    with as_somebody():
        with opened(path, new=False) as kept:
            assert len(list(kept.attempts())) == len(kept.marks()) == 1
            with pytest.raises(NoRecord) as caught:
                kept.begin(TASK, NOW)
        assert (str(caught.value), refused(path)) == (only, only)
    assert path.read_bytes() == before
    place.chmod(0o755)


def test_one_that_cannot_be_opened_is_refused(place):
    path = place / "marks.db"
    graded(path, ("ana.wire", sheet()))
    path.chmod(0)
    place.chmod(0o555)
    with as_somebody():
        for each in (path, place / "new.db"):
            assert "it cannot be opened; it may be that you do not have permission." in refused(each)
    place.chmod(0o755)


def test_a_full_disk_is_said_and_nothing_is_lost_but_what_did_not_fit(path):
    graded(path, ("ana.wire", sheet()), finish=False)
    with pytest.raises(NoRecord, match=r"the disk is full\."), opened(path) as kept:
        run = kept.begin(TASK, NOW)
        pages = kept._connection.execute("PRAGMA page_count").fetchone()[0]
        kept._connection.execute(f"PRAGMA max_page_count = {pages}")
        run.add("bo.wire", "b", sheet(refused="x" * 10_000))
    with opened(path) as kept:
        assert [file for file, _ in kept.begin(TASK, NOW).done] == ["ana.wire"]


def test_a_mistake_in_the_code_is_not_said_of_the_file(path):
    with pytest.raises(UnicodeDecodeError), opened(path) as kept:
        b"\xff".decode()
    with pytest.raises(sqlite3.ProgrammingError):
        kept.marks()


# ---------------------------------------------------------------- forms, older and newer


def test_a_newer_record_is_refused_and_left_alone(path):
    graded(path, ("ana.wire", sheet()))
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA user_version = 99")
    connection.close()
    before = path.read_bytes()
    assert refused(path).endswith(
        f"a newer version of wirecheck has written it (form 99; this version knows {len(record.FORMS)}). "
        "Use that version, or a newer one."
    )
    assert path.read_bytes() == before


NEXT = (
    ("ALTER TABLE by_eye ADD COLUMN by TEXT NOT NULL DEFAULT ''",),
    ("CREATE INDEX attempt_of_student ON attempt (student)",),
)


def form(path):
    connection = sqlite3.connect(path)
    said = connection.execute("PRAGMA user_version").fetchone()[0]
    connection.close()
    return said


def test_an_older_record_moves_forward_by_itself_with_all_that_is_in_it(path, monkeypatch):
    graded(path, ("ana.wire", sheet()), finish=False)
    with opened(path) as kept:
        kept.by_eye("Ana", "Shed", "trim", 28, "neat", NOW)
        before = (list(kept.attempts()), kept.marks())
    known = len(record.FORMS)
    assert form(path) == known
    monkeypatch.setattr(record, "FORMS", record.FORMS + NEXT)
    with opened(path) as kept:
        assert (list(kept.attempts()), kept.marks()) == before
        assert kept.begin(TASK, NOW).number == 1
        assert kept._connection.execute("SELECT by FROM by_eye").fetchall() == [("",)]
    assert form(path) == known + 2
    monkeypatch.undo()
    assert "a newer version" in refused(path)


@pytest.mark.parametrize("stop", ["CREATE TABLE run (id)", None])
def test_a_move_that_does_not_come_to_its_end_leaves_the_old_record(path, monkeypatch, stop):
    graded(path, ("ana.wire", sheet()))
    known, before = record.FORMS, path.read_bytes()

    class Stops(tuple):
        def __iter__(self):
            yield NEXT[0][0]
            raise KeyboardInterrupt

    last = (stop,) if stop else Stops(("", ""))
    monkeypatch.setattr(record, "FORMS", (*known, *NEXT, last))
    with pytest.raises((NoRecord, KeyboardInterrupt)), opened(path):
        pass
    monkeypatch.undo()
    assert (form(path), path.read_bytes() == before) == (len(known), True)
    with opened(path) as kept:
        assert len(list(kept.attempts())) == 1


def test_the_form_that_is_out_there_stays_as_it_is(path):
    """Its bytes may only change with a form that is added: older files do not change by themselves."""
    text = "\n".join(record.FORMS[0])
    digest = hashlib.sha256(text.encode()).hexdigest()
    assert digest == "0a1fca8cfe0a751a2a09ffbc60a576a098c95f94d345a3f26843eba5e153b185"


# ---------------------------------------------------------------- several at once


def test_one_that_another_writes_to_is_waited_for(path):
    graded(path, ("ana.wire", sheet()))
    other = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
    other.execute("BEGIN EXCLUSIVE")
    done = threading.Timer(0.2, other.execute, ["COMMIT"])
    done.start()
    graded(path, ("ana.wire", sheet()))
    done.join()
    other.close()
    with opened(path) as kept:
        assert len(list(kept.attempts())) == 2


def test_one_that_stays_locked_is_refused_in_words(path, monkeypatch):
    graded(path, ("ana.wire", sheet()))
    monkeypatch.setattr(record, "WAITS", 0.05)
    other = sqlite3.connect(path, isolation_level=None)
    for lock in ("IMMEDIATE", "EXCLUSIVE"):
        other.execute(f"BEGIN {lock}")
        assert refused(path).endswith("another program is writing to it; try again when that is done.")
        other.execute("COMMIT")
    other.close()


def test_two_that_go_on_with_one_run_add_each_work_once(path):
    graded(path, ("ana.wire", sheet()), finish=False)
    with opened(path) as one, opened(path) as two:
        first, second = one.begin(TASK, NOW), two.begin(TASK, LATER)
        assert first.number == second.number == 1
        for run in (first, second):
            run.add("bo.wire", "b", sheet("bo.wire", "Bo"))
            run.add("cy.wire", "c", sheet("cy.wire", "Cy"))
            run.finish()
        files = [each.file for each in two.attempts()]
    assert files == ["ana.wire", "bo.wire", "cy.wire"]


def test_two_that_begin_a_record_at_once_make_one(path):
    gate = threading.Barrier(4)
    ended = []

    def work(number):
        gate.wait()
        graded(path, ("ana.wire", sheet()), task=TASK._replace(effort=number))
        ended.append(number)

    threads = [threading.Thread(target=work, args=(number,)) for number in range(4)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    with opened(path) as kept:
        assert sorted(one.effort for one in kept.attempts()) == sorted(ended) == [0, 1, 2, 3]
    assert [one.name for one in path.parent.iterdir()] == [path.name]


def test_a_record_that_is_just_being_made_is_no_stranger(tmp_path):
    """What a file is known by was read piece by piece, and another made it a record in between."""
    refused = []

    def look(path, gate):
        gate.wait()
        try:
            with opened(path):
                pass
        except NoRecord as error:
            refused.append(str(error))

    for number in range(20):
        gate = threading.Barrier(6)
        threads = [threading.Thread(target=look, args=(tmp_path / f"{number}.db", gate)) for _ in range(6)]
        for each in threads:
            each.start()
        for each in threads:
            each.join()
    assert not refused


# ---------------------------------------------------------------- killed

WORKER = """
import sys
import time
from datetime import UTC, datetime
from wirecheck import record
from wirecheck.grading.sheet import Sheet, StageScore

path, count = sys.argv[1], int(sys.argv[2])
files = tuple(f"{number:04}.wire" for number in range(count))
task = record.Task("Shed", "e0", None, 2, files, "1.0")
with record.opened(path) as kept:
    run = kept.begin(task, datetime(2026, 1, 5, tzinfo=UTC))
    print("begun", len(run.done), flush=True)
    for number, file in enumerate(files):
        if (file, "d") in run.done:
            continue
        print("did", file, flush=True)
        time.sleep(0.004)  # A work is not graded sooner, and fifty kills come before the last one.
        one = StageScore("trim", 30.0, float(number % 31), False)
        run.add(file, "d", Sheet(file, file, "Shed", (one,), remarks=("x" * (number % 500),)))
        if number % 7 == 0:
            run.save()
        if not run.waiting:
            print("kept", number + 1, flush=True)
    run.finish()
print("finished", flush=True)
"""


def whole(path):
    """What is in the record, which must be whole: each work once, with the score of its stage."""
    connection = sqlite3.connect(path)
    assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    rows = connection.execute(
        "SELECT file, score FROM attempt LEFT JOIN stage_score ON attempt = attempt.id ORDER BY file"
    ).fetchall()
    connection.close()
    return rows


@pytest.mark.slow
def test_a_run_that_is_killed_fifty_times_loses_nothing_and_does_nothing_twice(path):
    """Killed at random moments, from its first line on: what it said is kept is there, whole and once."""
    count, dice = 4000, random.Random(50)
    command = [sys.executable, "-c", WORKER, str(path), str(count)]
    killed, kept, did = 0, 0, []
    while killed < 50:
        worker = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT)
        if killed % 5:
            worker.stdout.readline()
        time.sleep(dice.random() * (0.15 if killed % 5 else 0.5))
        worker.kill()
        said, _ = worker.communicate()
        assert worker.returncode == -signal.SIGKILL
        killed += 1
        did += [line for line in said.splitlines() if line.startswith("did")]
        kept = max([kept, *(int(line.split()[1]) for line in said.splitlines() if line.startswith("kept"))])
        rows = whole(path) if path.exists() and path.stat().st_size else []
        assert [file for file, _ in rows] == [f"{number:04}.wire" for number in range(len(rows))]
        assert [score for _, score in rows] == [float(number % 31) for number in range(len(rows))]
        assert len(rows) >= kept
        kept = len(rows)
    assert 0 < kept < count
    last = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=True)
    begun, *others = last.stdout.splitlines()
    assert (begun, others[-1]) == (f"begun {kept}", "finished")
    assert len([line for line in others if line.startswith("did")]) == count - kept
    assert len(whole(path)) == count
    # What was done more than once is no more than what a kill took back: less than a batch each time.
    assert len(did) - kept < 50 * 100


# ---------------------------------------------------------------- what students hand in themselves


def test_a_work_that_is_handed_in_is_in_the_record_whole(path):
    ana = HandedIn("Ana", "stairs.wire", b'board "\xff"')
    with opened(path) as kept:
        run = kept.hand_in(TASK, ana, sheet(), NOW, new=True)
    with opened(path) as kept:
        handed, attempt = kept.handed_in(run)
        assert handed == ana._replace(student="ana") and attempt.sheet == sheet()
        assert kept.handed_in(run + 1) is None and kept.runs_handed_in() == {run}
        assert kept.marks()[0].counts == 25
        assert kept.begin(TASK, NOW).number == run + 1  # It is finished.


def test_a_name_is_new_once(path):
    with opened(path) as kept:
        kept.hand_in(TASK, HandedIn("Ana  Ruiz", "stairs.wire", b"1"), sheet(), NOW, new=True)
        with pytest.raises(NameTaken):
            kept.hand_in(TASK, HandedIn("ana ruiz ", "stairs.wire", b"2"), sheet(), NOW, new=True)
        assert (kept.handed_in_by("ANA RUIZ"), kept.names()) == (1, 1)
        kept.hand_in(TASK, HandedIn("Ana Ruiz", "stairs.wire", b"3"), sheet(), NOW, new=False)
        assert (kept.handed_in_by("ANA RUIZ"), kept.names()) == (2, 1)
        assert (kept.students(), kept.tried()) == (("Ana",), {("shed", "", "ana")})


def test_the_secret_is_the_first_that_was_given(path):
    with opened(path) as kept:
        assert kept.secret(b"one") == b"one"
    with opened(path) as kept:
        assert kept.secret(b"two") == b"one"
