"""Files worked on by other machines: by the workers of a Dask cluster, a bundle of files at a time.

A bundle is worked on there as files are here, in processes with their limits, by a program of its own: the
workers of a cluster may start none themselves. So the outcomes are the same wherever they come from.
"""

from __future__ import annotations

import logging
import pickle
import subprocess
import sys
from collections import deque
from collections.abc import Callable, Generator, Iterable
from concurrent.futures import CancelledError
from itertools import islice
from typing import Any, TypeVar

from wirecheck.cli._attempts import Ended, Limits, Outcome
from wirecheck.cli._sources import Unreadable
from wirecheck.version import __version__

Value = TypeVar("Value")

BUNDLE = 25
"""The files of a bundle: enough that its program's start counts for little."""
AHEAD = 4
"""How many bundles each thread of the cluster has waiting, so that none stands idle and no more are held."""
CONNECTS = 10.0
"""The seconds for which the cluster is waited for."""


def on_cluster(
    function: Callable[..., Value], work: Iterable[tuple[Any, ...]], limits: Limits, address: str
) -> Generator[Outcome[Value], None, None]:
    """What a function makes of each tuple of its arguments, in their order, on the cluster at an address.

    Raises
    ------
    Unreadable
        There is no such cluster, its workers have another version of wirecheck, or it broke down.
    """
    try:
        from distributed import Client, KilledWorker
    except ImportError:
        raise Unreadable("--cluster needs Dask: install wirecheck with its extra cluster.") from None
    connect: Any = Client
    # What goes wrong there is said in a sentence, and not in tracebacks by the way.
    logging.disable(logging.CRITICAL)
    left = iter(work)
    running: deque[Any] = deque()
    try:
        with connect(address, timeout=CONNECTS, set_as_default=False) as client:
            _same_version(client)
            most = max(1, AHEAD * sum(client.nthreads().values()))
            bundle = list(islice(left, BUNDLE))
            while bundle or running:
                if bundle and len(running) < most:
                    asked = pickle.dumps((function, bundle, limits))
                    running.append(client.submit(_bundle, asked, pure=False))
                    bundle = list(islice(left, BUNDLE))
                else:
                    yield from pickle.loads(running.popleft().result())
    except (OSError, ValueError, TimeoutError, CancelledError, KilledWorker) as error:
        raise Unreadable(f"the cluster at {address} cannot be used: {error}.") from error
    finally:
        logging.disable(logging.NOTSET)


def _same_version(client: Any) -> None:
    versions = set(client.run(_version).values())
    if not versions:
        raise ValueError("it has no workers")
    if versions != {__version__}:
        raise ValueError(
            f"its workers have wirecheck {', '.join(sorted(versions))}, and here is {__version__}"
        )


# ------------------------------------------------------------- on a worker


def _version() -> str:
    return __version__


def _bundle(asked: bytes) -> bytes:
    """The outcomes of a bundle, in a program of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "wirecheck.cli._cluster"], input=asked, capture_output=True, check=False
    )
    if done.returncode:
        _, work, _ = pickle.loads(asked)
        why = Ended(
            "The program that worked on this file and others broke down.", "Run it again without --cluster."
        )
        return pickle.dumps([why] * len(work))
    return done.stdout


def _main() -> None:
    from wirecheck.cli._workers import in_workers

    function, work, limits = pickle.loads(sys.stdin.buffer.read())
    outcomes = list(in_workers(function, work, limits._replace(jobs=limits.jobs or 1)))
    sys.stdout.buffer.write(pickle.dumps(outcomes))


if __name__ == "__main__":
    _main()
