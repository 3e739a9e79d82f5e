"""Files worked on in processes of their own, each within its time and its memory.

Whatever happens to a file there, the others have their results: a process that takes too long is
ended, one that needs too much gets no more, and one that dies is replaced.
"""

from __future__ import annotations

import io
import multiprocessing
import os
import pickle
import signal
import socket
import sys
import threading
import warnings
from collections import deque
from collections.abc import Callable, Generator, Iterator, Sequence
from concurrent.futures import wait
from contextlib import contextmanager, redirect_stderr
from multiprocessing import connection
from typing import Any, TypeVar

import click
from pebble import CONSTS, ProcessExpired, ProcessFuture, ProcessPool

from wirecheck.cli import stopping
from wirecheck.cli._attempts import (
    MEGABYTES,
    SECONDS,
    TRACEBACK,
    Done,
    Ended,
    Limits,
    Outcome,
    Refused,
    by_error,
    by_memory,
    by_status,
    by_time,
)
from wirecheck.cli._sources import Unreadable

Value = TypeVar("Value")

AHEAD = 16
"""How many files a process has waiting: enough that none stands idle, and no more are held."""
# On Linux a copy of this process starts in milliseconds with all that is loaded, and it is safe: this
# process has one thread when the first are made, and later ones use nothing that another thread of it
# may hold. Elsewhere libraries of the system do not bear to be copied, and a process starts anew.
_START = "fork" if sys.platform == "linux" else "spawn"
# What a process without memory ends with: no other end has it.
_NO_MEMORY = 86
BROKEN = Ended(
    "The processes that work on files broke down at this file.",
    "Run it by itself. Where memory is short, run fewer at once: --jobs 1.",
)


def in_workers(
    function: Callable[..., Value], work: Sequence[tuple[Any, ...]], limits: Limits, given: bytes = b""
) -> Generator[Outcome[Value], None, None]:
    """What a function makes of each tuple of its arguments, in their order.

    The function and what it gives are known by name or made of plain values: they go from process to
    process. What a function reads from standard input is `given`.

    Raises
    ------
    Unreadable
        No process can be started.
    """
    left = deque(work)
    tried = False
    while left:
        with pool_of(limits, len(left), given) as pool:
            for outcome in _outcomes(pool, function, left, limits):
                tried = False
                yield outcome
        if left:
            # The pool broke. Another one tries once more; then the file at which it breaks has its word.
            if tried:
                left.popleft()
                yield BROKEN
            tried = not tried


def _outcomes(
    pool: ProcessPool, function: Callable[..., Value], left: deque[tuple[Any, ...]], limits: Limits
) -> Iterator[Outcome[Value]]:
    """The outcomes as long as the pool stands; what has one is taken off the work that is left."""
    seconds, megabytes = limits.seconds or SECONDS, limits.megabytes or MEGABYTES
    running: deque[ProcessFuture[bytes]] = deque()
    try:
        while left:
            ahead = min(len(left), AHEAD * _jobs(limits, len(left)))
            for args in [left[number] for number in range(len(running), ahead)]:
                running.append(pool.schedule(worked, (function, args), timeout=seconds))
            while not wait([running[0]], timeout=1).done:
                if not pool.active:
                    return
            outcome = came_to(running.popleft(), seconds, megabytes)
            left.popleft()
            yield outcome
    except RuntimeError:  # That is how a pool says that it broke.
        return


def came_to(future: ProcessFuture[bytes], seconds: int, megabytes: int) -> Outcome[Any]:
    """The outcome of work that was given to a pool."""
    try:
        outcome: Outcome[Any] = pickle.loads(future.result())
    except TimeoutError:
        return by_time(seconds)
    except ProcessExpired as error:
        return by_memory(megabytes) if error.exitcode == _NO_MEMORY else by_status(error.exitcode)
    return outcome


@contextmanager
def pool_of(limits: Limits, most: int, given: bytes, renewed: int = 0) -> Iterator[ProcessPool]:
    """Processes to work in. None is left when it ends, however it ends.

    Each is renewed after so many bits of work, where that is not 0.
    """
    if limits.megabytes is not None and memory_limit() is None:
        raise click.UsageError("--megabytes: this system cannot limit the memory of a process.")
    # Later Pythons warn of copies of a process with threads; see _START.
    warnings.filterwarnings("ignore", "This process .* is multi-threaded", DeprecationWarning)
    CONSTS.sleep_unit = 0.05  # How often it looks after its processes; its end waits for one look more.
    pool = ProcessPool(
        max_workers=_jobs(limits, most),
        max_tasks=renewed,
        initializer=_begin,
        initargs=(limits.megabytes or MEGABYTES, given),
        context=multiprocessing.get_context(_START),
    )
    try:
        with _interrupts_held():
            try:
                pool.schedule(int).result(SECONDS)
            except (OSError, RuntimeError) as error:
                raise Unreadable(f"no process could be started to work in: {error}.") from error
        yield pool
    finally:
        stop: Callable[[], None] = pool.stop
        stop()
        pool.join()


@contextmanager
def _interrupts_held() -> Iterator[None]:
    """No signal to end while processes are made: they, and those made later, say nothing of an interrupt."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, stopping())
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _jobs(limits: Limits, most: int) -> int:
    return min(limits.jobs or processors(), most)


def processors() -> int:
    """How many processes can work at once here."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def memory_limit() -> int | None:
    """The limit of the system that holds a process to its memory, or None where there is none."""
    try:
        import resource
    except ImportError:
        return None
    # Linux counts there what can be written to. The whole space of addresses would count what the
    # renderer of pictures reserves and never touches, which is gigabytes.
    return resource.RLIMIT_DATA if sys.platform == "linux" else resource.RLIMIT_AS


# ------------------------------------------------- in the process that works


def _begin(megabytes: int, given: bytes) -> None:
    """Make a process ready: its limit of memory, its end with the one that started it, and its silence."""
    sys.stdin = io.TextIOWrapper(io.BytesIO(given))
    _let_go()
    which = memory_limit()
    if which is not None:
        import resource

        most = resource.getrlimit(which)[1]
        limit = megabytes * 1024 * 1024
        limit = limit if most == resource.RLIM_INFINITY else min(limit, most)
        resource.setrlimit(which, (limit, limit))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    # It has nothing to bring to an end: whoever ends it need not wait.
    for each in set(stopping()) - {signal.SIGINT}:
        signal.signal(each, signal.SIG_DFL)
        if hasattr(signal, "pthread_sigmask"):
            signal.pthread_sigmask(signal.SIG_UNBLOCK, [each])
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent.sentinel,), daemon=True).start()
    # What it has to say comes with its outcome. Libraries that end it say so in their own words.
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    if not os.environ.get(TRACEBACK):
        os.dup2(nowhere, 2)


def _let_go() -> None:
    """Close the copies of connections that came with the process: the other side would see no end."""
    if _START != "fork":
        return
    for name in os.listdir("/proc/self/fd"):
        try:
            copy = socket.socket(fileno=int(name))
        except OSError:
            continue  # It is no socket, or was the listing's own.
        if copy.family == socket.AF_UNIX:
            copy.detach()  # Processes speak with each other through these.
        else:
            copy.close()


def _end_with(parent: int) -> None:
    connection.wait([parent])
    os._exit(1)


def worked(function: Callable[..., Any], args: tuple[Any, ...]) -> bytes:
    """The outcome of the work on a file, made ready to be sent, which may take too much memory as well."""
    said = io.StringIO()
    try:
        try:
            with redirect_stderr(said):
                result = function(*args)
            return pickle.dumps(Done(result, said.getvalue()))
        except click.ClickException as error:
            return pickle.dumps(Refused(error, said.getvalue()))
    except MemoryError:
        # There may be none left to say it with, and the next file gets a process with all of it.
        os._exit(_NO_MEMORY)
    except BaseException as error:
        return pickle.dumps(by_error(error))
