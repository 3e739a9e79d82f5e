"""A server that runs as a user starts it."""

import os
import re
import signal
import subprocess
import sys
from contextlib import contextmanager

from tests.cli.boards import ROOT


@contextmanager
def served(folder, *options):
    """`wirecheck serve` on a folder, at any free port: its address, and its process."""
    command = [sys.executable, "-W", "error", "-m", "wirecheck", "serve", ".", "--port", "0", *options]
    server = subprocess.Popen(
        command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment()
    )
    try:
        said = server.stdout.readline()
        yield re.search(r"http://[^/]*", said)[0], server
    finally:
        if server.poll() is None:
            server.send_signal(signal.SIGINT)
        server.wait(timeout=20)
        server.stdout.close()
        server.stderr.close()


def last_words(server):
    """What a server says until its end, which is near."""
    server.wait(timeout=20)
    return server.stdout.read(), server.stderr.read()


def environment():
    return {**os.environ, "PYTHONPATH": str(ROOT)}
