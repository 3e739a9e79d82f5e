"""The record of what was graded: a SQLite file to which runs add, and in which nothing is changed or deleted.

A run writes what it has done every so often, all of a batch or nothing of it. One that was ended before its
end, whatever ended it, goes on where it was when it is begun again. The file can be copied and can be on a
network drive: it keeps no log beside itself (WAL), and what SQLite puts there while it writes is gone when
that is done. Another program that writes is waited for.

Source: SQLite, "Atomic Commit In SQLite" and "Write-Ahead Logging" (that needs memory that all readers share)
"""

from __future__ import annotations

import hashlib
import math
import os
import pickle
import sqlite3
import stat
import time
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from typing import NamedTuple

from wirecheck.grading.marks import Attempt, ByEye, Mark, Scored, alike, marks
from wirecheck.grading.plain import NotASheet, as_json, sheet_of_json
from wirecheck.grading.sheet import Sheet, StageScore
from wirecheck.inputs import reason, shown_path
from wirecheck.judge.finding import Stage
from wirecheck.parts.library import PartFile
from wirecheck.version import __version__
from wirecheck.whole import IsABoard, refuse_board

WAITS = 20.0
"""The seconds for which another program that writes is waited for."""
_EVERY = 0.2
"""The least seconds between two writings of a run."""

_LEAST = 512
"""The bytes of the smallest database: one page of the smallest size."""
_IS_OURS = 0x77697265
"""What `PRAGMA application_id` says of a record: "wire" in ASCII."""


def _stands(table: str) -> tuple[str, ...]:
    """What keeps a table's rows as they were written."""
    return tuple(
        f"CREATE TRIGGER {table}_stands_at_{what.lower()} BEFORE {what} ON {table} "
        "BEGIN SELECT RAISE(ABORT, 'what is recorded stays as it is'); END"
        for what in ("UPDATE", "DELETE")
    )


FORMS: tuple[tuple[str, ...], ...] = (
    (
        "CREATE TABLE run (id INTEGER PRIMARY KEY, begun TEXT NOT NULL, exercise TEXT NOT NULL, "
        "exercise_digest TEXT NOT NULL, stage TEXT NOT NULL, effort INTEGER NOT NULL, version TEXT NOT NULL, "
        "files_digest TEXT NOT NULL)",
        "CREATE TABLE finished (run INTEGER PRIMARY KEY REFERENCES run, at TEXT NOT NULL)",
        "CREATE TABLE attempt (id INTEGER PRIMARY KEY, run INTEGER NOT NULL REFERENCES run, "
        "at TEXT NOT NULL, student TEXT NOT NULL, file TEXT NOT NULL, digest TEXT NOT NULL, "
        "sheet TEXT NOT NULL, UNIQUE (run, file, digest))",
        "CREATE TABLE stage_score (attempt INTEGER NOT NULL REFERENCES attempt, stage TEXT NOT NULL, "
        "points REAL NOT NULL, score REAL NOT NULL, lost INTEGER NOT NULL, PRIMARY KEY (attempt, stage))",
        "CREATE TABLE by_eye (id INTEGER PRIMARY KEY, at TEXT NOT NULL, student TEXT NOT NULL, "
        "exercise TEXT NOT NULL, stage TEXT NOT NULL, points REAL NOT NULL, note TEXT NOT NULL)",
        *(one for table in ("run", "finished", "attempt", "stage_score", "by_eye") for one in _stands(table)),
    ),
    (
        "CREATE TABLE secret (id INTEGER PRIMARY KEY CHECK (id = 1), secret BLOB NOT NULL)",
        "CREATE TABLE handed_in (run INTEGER PRIMARY KEY REFERENCES run, student TEXT NOT NULL, "
        "exercise_file TEXT NOT NULL, work BLOB NOT NULL)",
        "CREATE INDEX handed_in_by ON handed_in (student)",
        *(one for table in ("secret", "handed_in") for one in _stands(table)),
    ),
)
"""What makes a record of each form out of one of the form before it, the first out of nothing.

The number of its form is in the file (`PRAGMA user_version`). What stands here was run on people's files:
it is added to, and never changed.
"""


class NoRecord(Exception):
    """A file cannot be used as the record; it says why, in a sentence."""


class Task(NamedTuple):
    """What a run is to do: one that was ended goes on only where all of it is the same.

    Attributes
    ----------
    exercise : its title
    exercise_digest : of its text, and of all else that scores depend on
    stage : the one asked for; None is all of them
    effort : with how much it is looked for the fewest mistakes
    files : the works
    version : of wirecheck
    """

    exercise: str
    exercise_digest: str
    stage: Stage | None
    effort: int
    files: tuple[str, ...]
    version: str = __version__


class HandedIn(NamedTuple):
    """A work that a student handed in herself, in a browser.

    Attributes
    ----------
    student : the name under which it was handed in
    exercise_file : the file of the exercise in the folder that was served
    work : what she handed in
    """

    student: str
    exercise_file: str
    work: bytes


class NameTaken(Exception):
    """Somebody has handed in under that name before."""


def exercise_digest(text: bytes, parts: tuple[tuple[str, PartFile], ...]) -> str:
    """Of all that scores by an exercise depend on: its text, and the part files beside it."""
    return hashlib.sha256(pickle.dumps((text, parts))).hexdigest()


@contextmanager
def opened(path: str | os.PathLike[str], *, new: bool = True) -> Iterator[Record]:
    """A record, brought to the newest form; what its runs have done is in it at the end, whatever ends it.

    Parameters
    ----------
    path : a file; it is made where there is none
    new : whether it may be made

    Raises
    ------
    NoRecord
        It cannot be used; also at any later time, where reading or writing fails.

    Examples
    --------
    >>> with opened("boards/demo.wire") as record:
    ...     pass
    Traceback (most recent call last):
    wirecheck.record.NoRecord: boards/demo.wire cannot be used as the record: ...
    """
    name = os.fspath(path)
    _refuse(name, new)
    with _in_words(name):
        connection = _connected(name)
    with closing(connection):
        with _in_words(name):
            _bring_forward(name, connection)
        record = Record(name, connection)
        try:
            yield record
        finally:
            record.save()


class Record:
    """A record that is open: see `opened`."""

    def __init__(self, path: str, connection: sqlite3.Connection) -> None:
        self._path = path
        self._connection = connection
        self._run: Run | None = None

    def begin(self, task: Task, now: datetime) -> Run:
        """A run: the one with this task that was ended before its end, or else a new one."""
        self.save()
        said = _said(task)
        with _in_words(self._path):
            with _writing(self._connection):
                number = self._ended(said) or self._new(said, now)
            rows = self._connection.execute(
                "SELECT file, digest, sheet FROM attempt WHERE run = ? ORDER BY id", (number,)
            ).fetchall()
            done = {(file, digest): sheet_of_json(sheet) for file, digest, sheet in rows}
        self._run = Run(self, number, done, _moment(now))
        return self._run

    def _ended(self, said: tuple[bytes | str | int, ...]) -> int:
        """The number of the newest run with this task that did not come to its end, or 0."""
        found = self._connection.execute(
            "SELECT max(id) FROM run WHERE exercise = CAST(? AS TEXT) AND exercise_digest = CAST(? AS TEXT) "
            "AND stage = ? AND effort = ? AND version = CAST(? AS TEXT) AND files_digest = ? "
            "AND id NOT IN (SELECT run FROM finished)",
            said,
        ).fetchone()
        return int(found[0] or 0)

    def _new(self, said: tuple[bytes | str | int, ...], now: datetime) -> int:
        """The number of a run that is new."""
        added = self._connection.execute(
            "INSERT INTO run (begun, exercise, exercise_digest, stage, effort, version, files_digest) "
            "VALUES (?, CAST(? AS TEXT), CAST(? AS TEXT), ?, ?, CAST(? AS TEXT), ?)",
            (_moment(now), *said),
        )
        return int(added.lastrowid or 0)

    def _finish(self, number: int, at: str) -> None:
        """Say that a run is done."""
        self._connection.execute("INSERT OR IGNORE INTO finished (run, at) VALUES (?, ?)", (number, at))

    def save(self) -> None:
        """Write what the run has done and is not written yet."""
        if self._run:
            self._run.save()

    def by_eye(
        self, student: str, exercise: str, stage: Stage, points: float, note: str, now: datetime
    ) -> None:
        """Add what the instructor judged by eye, with her note. What she entered before stays beside it."""
        if not (math.isfinite(points) and points >= 0):
            raise ValueError("points are a number, and no less than 0")
        with _in_words(self._path), _writing(self._connection):
            self._connection.execute(
                "INSERT INTO by_eye (at, student, exercise, stage, points, note) "
                "VALUES (?, CAST(? AS TEXT), CAST(? AS TEXT), ?, ?, CAST(? AS TEXT))",
                (_moment(now), _bytes(student), _bytes(exercise), stage, points, _bytes(note)),
            )

    def secret(self, new: bytes) -> bytes:
        """What the codes of those who hand in are made with: what it was given first, and none after that."""
        with _in_words(self._path), _writing(self._connection):
            self._connection.execute("INSERT OR IGNORE INTO secret (id, secret) VALUES (1, ?)", (new,))
            (known,) = self._connection.execute("SELECT secret FROM secret").fetchone()
        return bytes(known)

    def hand_in(self, task: Task, one: HandedIn, sheet: Sheet, now: datetime, *, new: bool) -> int:
        """Add a work that a student handed in, as a run of its own; its number.

        Parameters
        ----------
        new : whether it is said to be her first. Then nobody may have handed in under her name

        Raises
        ------
        NameTaken
            Somebody has.
        """
        self.save()
        with _in_words(self._path), _writing(self._connection):
            if new and self._handed_in_by(one.student):
                raise NameTaken
            number = self._new(_said(task), now)
            digest = hashlib.sha256(one.work).hexdigest()
            Run(self, number, {}, _moment(now))._insert(sheet.file, digest, sheet)
            self._connection.execute(
                "INSERT INTO handed_in (run, student, exercise_file, work) "
                "VALUES (?, CAST(? AS TEXT), CAST(? AS TEXT), ?)",
                (number, _bytes(alike(one.student)), _bytes(one.exercise_file), one.work),
            )
            self._finish(number, _moment(now))
        return number

    def handed_in_by(self, student: str) -> int:
        """How many works were handed in under a name."""
        with _in_words(self._path):
            return self._handed_in_by(student)

    def _handed_in_by(self, student: str) -> int:
        found = self._connection.execute(
            "SELECT count(*) FROM handed_in WHERE student = CAST(? AS TEXT)", (_bytes(alike(student)),)
        ).fetchone()
        return int(found[0])

    def names(self) -> int:
        """How many have handed in."""
        with _in_words(self._path):
            (found,) = self._connection.execute("SELECT count(DISTINCT student) FROM handed_in").fetchone()
        return int(found)

    def students(self) -> tuple[str, ...]:
        """Who has handed in, as their newest works write it, in order."""
        with _in_words(self._path):
            rows = self._connection.execute(
                "SELECT attempt.student, max(attempt.id) FROM handed_in JOIN attempt USING (run) "
                "GROUP BY handed_in.student ORDER BY handed_in.student"
            )
            return tuple(row[0] for row in rows)

    def tried(self) -> frozenset[tuple[str, str, str]]:
        """Who tried which exercise at which stage; a stage of nothing is all of them."""
        with _in_words(self._path):
            rows = self._connection.execute(
                "SELECT DISTINCT exercise, stage, student FROM attempt JOIN run ON run.id = attempt.run"
            )
            return frozenset((alike(title), stage, alike(student)) for title, stage, student in rows)

    def handed_in(self, run: int) -> tuple[HandedIn, Attempt] | None:
        """The work that a run graded, and what it came to; None where none was handed in."""
        with _in_words(self._path):
            row = self._connection.execute(
                "SELECT student, exercise_file, work FROM handed_in WHERE run = ?", (run,)
            ).fetchone()
        attempt = next(self._attempts_of(run), None) if row is not None else None
        return (HandedIn(*row), attempt) if attempt is not None else None

    def runs_handed_in(self) -> frozenset[int]:
        """The numbers of the runs that graded what was handed in."""
        with _in_words(self._path):
            return frozenset(run for (run,) in self._connection.execute("SELECT run FROM handed_in"))

    def judged_by_eye(self) -> tuple[ByEye, ...]:
        """All that was judged by eye, in the order in which it was entered."""
        with _in_words(self._path):
            rows = self._connection.execute(
                "SELECT at, student, exercise, stage, points, note FROM by_eye ORDER BY id"
            )
            return tuple(ByEye(*row) for row in rows)

    def attempts(self) -> Iterator[Attempt]:
        """Every attempt: run by run, and in a run by the names of the files."""
        self.save()
        with _in_words(self._path):
            runs = self._connection.execute("SELECT id FROM run ORDER BY id").fetchall()
        for (number,) in runs:
            yield from self._attempts_of(number)

    def _attempts_of(self, run: int) -> Iterator[Attempt]:
        """The attempts of one run, by the names of the files."""
        with _in_words(self._path):
            runs = self._connection.execute(
                "SELECT id, version, exercise_digest, stage, effort FROM run WHERE id = ?", (run,)
            ).fetchall()
        for number, version, exercise_digest, stage, effort in runs:
            # Run by run, so that neither is all of it in memory nor a slow reader in a writer's way.
            with _in_words(self._path):
                rows = self._connection.execute(
                    "SELECT at, file, digest, sheet FROM attempt WHERE run = ? ORDER BY file, id", (number,)
                ).fetchall()
            for at, file, digest, text in rows:
                with _in_words(self._path):
                    sheet = sheet_of_json(text)
                yield Attempt(
                    number, at, version, exercise_digest, stage or None, effort, file, digest, sheet
                )

    def marks(self) -> tuple[Mark, ...]:
        """Of each student, exercise and stage what the newest attempt came to, and what was judged by eye."""
        self.save()
        with _in_words(self._path):
            rows = self._connection.execute(
                "SELECT attempt.at, student, exercise, file, stage_score.stage, points, score, lost "
                "FROM stage_score JOIN attempt ON attempt.id = stage_score.attempt "
                "JOIN run ON run.id = attempt.run ORDER BY attempt.id"
            )
            scored = [
                Scored(at, student, exercise, file, StageScore(stage, points, score, bool(lost)))
                for at, student, exercise, file, stage, points, score, lost in rows
            ]
        return marks(scored, self.judged_by_eye())


class Run:
    """A run of a record.

    Attributes
    ----------
    number : in the record, from 1
    done : what it had done when it was begun: the sheet of each file, by its name and the digest of its bytes
    """

    def __init__(self, record: Record, number: int, done: Mapping[tuple[str, str], Sheet], at: str) -> None:
        self.number = number
        self.done = done
        self._record = record
        self._path, self._connection = record._path, record._connection
        self._at = at
        self._pending: list[tuple[str, str, Sheet]] = []
        self._next = time.monotonic()

    @property
    def waiting(self) -> int:
        """How many were added and are not written yet."""
        return len(self._pending)

    def add(self, file: str, digest: str, sheet: Sheet) -> None:
        """Add what a work came to. It is written with the next ones; what is there already stays as it is."""
        self._pending.append((file, digest, sheet))
        if time.monotonic() >= self._next:
            self.save()

    def save(self) -> None:
        """Write all that was added: afterwards it is in the record, whatever happens."""
        if not self._pending:
            return
        began = time.monotonic()
        with _in_words(self._path), _writing(self._connection):
            for file, digest, sheet in self._pending:
                self._insert(file, digest, sheet)
        self._pending.clear()
        now = time.monotonic()
        # On a slow disk the writing takes no more than a tenth of the time.
        self._next = now + max(_EVERY, 9 * (now - began))

    def _insert(self, file: str, digest: str, sheet: Sheet) -> None:
        # What was written and then begun once more, or by two at once, is there already.
        added = self._connection.execute(
            "INSERT OR IGNORE INTO attempt (run, at, student, file, digest, sheet) "
            "VALUES (?, ?, CAST(? AS TEXT), CAST(? AS TEXT), CAST(? AS TEXT), ?)",
            (self.number, self._at, _bytes(sheet.student), _bytes(file), _bytes(digest), as_json(sheet)),
        )
        if added.rowcount:
            self._connection.executemany(
                "INSERT INTO stage_score (attempt, stage, points, score, lost) VALUES (?, ?, ?, ?, ?)",
                [(added.lastrowid, one.stage, one.points, one.score, int(one.lost)) for one in sheet.stages],
            )

    def finish(self) -> None:
        """Say that all of it is done: what is begun with this task from now on is a new run."""
        self.save()
        with _in_words(self._path), _writing(self._connection):
            self._record._finish(self.number, self._at)


def _no_record(path: str, why: str) -> NoRecord:
    return NoRecord(f"{shown_path(path)} cannot be used as the record: {why}.")


def _refuse(path: str, new: bool) -> None:
    """Refuse what is no file, or is one that the user has for something else."""
    try:
        refuse_board(path)
        what = os.stat(path)
    except FileNotFoundError as error:
        if not new:
            raise _no_record(path, reason(error)) from error
        folder = os.path.dirname(os.path.realpath(path))
        if not os.path.isdir(folder):
            raise _no_record(path, "the folder for it is not there") from error
    except IsABoard as error:
        raise _no_record(path, reason(error)) from error
    except (OSError, ValueError) as error:
        raise _no_record(path, reason(error)) from error
    else:
        if stat.S_ISDIR(what.st_mode):
            raise _no_record(path, "it is a folder")
        if not stat.S_ISREG(what.st_mode):
            raise _no_record(path, "it is a pipe, a socket or a device, not a file")
        if 0 < what.st_size < _LEAST:  # SQLite takes a file of one byte for an empty one.
            raise _no_record(path, "it is not a record")


def _connected(path: str) -> sqlite3.Connection:
    """The file as SQLite has it. It is opened nowhere else meanwhile: closing it there would lose its locks.

    Source: SQLite, "How To Corrupt An SQLite Database File", of POSIX locks
    """
    connection = sqlite3.connect(os.path.realpath(path), timeout=WAITS, isolation_level=None)
    # Names of files are what they are, also those that are no UTF-8.
    connection.text_factory = lambda raw: raw.decode("utf-8", "surrogatepass")
    return connection


def _bring_forward(path: str, connection: sqlite3.Connection) -> None:
    """Make a record of the newest form out of an older one, or out of nothing: all of it or nothing."""
    # All that its form is known by is read at one moment, so that no other makes it in between.
    connection.execute("BEGIN")
    try:
        known = _form(path, connection)
    finally:
        connection.execute("ROLLBACK")
    if known == len(FORMS):
        return
    with _writing(connection):
        # Another may have done it while this one waited.
        for number in range(_form(path, connection), len(FORMS)):
            for statement in FORMS[number]:
                connection.execute(statement)
            connection.execute(f"PRAGMA user_version = {number + 1}")
        connection.execute(f"PRAGMA application_id = {_IS_OURS}")


def _form(path: str, connection: sqlite3.Connection) -> int:
    """The number of its form, 0 where nothing is in it.

    Raises
    ------
    NoRecord
        It is not ours, or of a form that is not known yet.
    """
    # What reads a table first holds the file as it is, which a pragma alone does not.
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    (ours,) = connection.execute("PRAGMA application_id").fetchone()
    (form,) = connection.execute("PRAGMA user_version").fetchone()
    if ours != _IS_OURS and (ours or form or tables):
        raise _no_record(path, "it is a database of something else")
    if form > len(FORMS):
        why = (
            f"a newer version of wirecheck has written it (form {form}; this version knows {len(FORMS)}). "
            "Use that version, or a newer one"
        )
        raise _no_record(path, why)
    return int(form)


@contextmanager
def _writing(connection: sqlite3.Connection) -> Iterator[None]:
    """All that is written in it is there at its end, or nothing of it."""
    try:
        connection.execute("BEGIN IMMEDIATE")
        yield
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


_WHY = {
    sqlite3.SQLITE_BUSY: "another program is writing to it; try again when that is done",
    sqlite3.SQLITE_LOCKED: "another program is writing to it; try again when that is done",
    sqlite3.SQLITE_READONLY: "it, or the folder it is in, can only be read",
    sqlite3.SQLITE_PERM: "you do not have permission",
    sqlite3.SQLITE_CANTOPEN: "it cannot be opened; it may be that you do not have permission",
    sqlite3.SQLITE_NOTADB: "it is not a record",
    sqlite3.SQLITE_CORRUPT: "it is damaged",
    sqlite3.SQLITE_FULL: "the disk is full",
    sqlite3.SQLITE_IOERR: "the disk it is on does not read or write as it should",
    sqlite3.SQLITE_TOOBIG: "what is to be written is too large",
}


@contextmanager
def _in_words(path: str) -> Iterator[None]:
    """What SQLite has to say, in words."""
    try:
        yield
    except sqlite3.Error as error:
        number: int | None = getattr(error, "sqlite_errorcode", None)
        if number is None:
            raise  # It is ours, and not the file's.
        # Above the lowest byte stands what is finer.
        raise _no_record(path, _WHY.get(number & 0xFF, f"it is damaged ({error})")) from error
    except (NotASheet, UnicodeDecodeError) as error:
        raise _no_record(path, "it is damaged") from error


def _said(task: Task) -> tuple[bytes | str | int, ...]:
    """A task as it is kept."""
    return (
        _bytes(task.exercise),
        _bytes(task.exercise_digest),
        task.stage or "",
        task.effort,
        _bytes(task.version),
        _files_digest(task.files),
    )


def _moment(now: datetime) -> str:
    """A time as text that sorts.

    Source: ISO 8601; Z is UTC
    """
    return now.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="seconds") + "Z"


def _bytes(text: str) -> bytes:
    """Text as it is kept: all of it, also halves of characters, which SQLite would not take as text."""
    return text.encode("utf-8", "surrogatepass")


def _files_digest(files: tuple[str, ...]) -> str:
    """One for each set of names, in whatever order they were given."""
    digest = hashlib.sha256()
    for file in sorted(set(files)):
        name = _bytes(file)
        digest.update(len(name).to_bytes(8, "big") + name)
    return digest.hexdigest()
