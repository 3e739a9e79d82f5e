"""Boards for the commands, and the commands as processes."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent

RIGHT = """board "Boathouse lamp"

panel BP 120/240 V, 10 kA available
breaker BP.3 15 A

box A device 20.3 cu in
box B octagon 15.5 cu in

cable W1 14/2 NM-B 22 ft from BP (free 8 in) to A (free 7 in, secured 8 in)
cable W2 14/2 NM-B 11 ft from A (free 7 in, secured 8 in) to B (free 6 in, secured 10 in)

S1 is single-pole-switch in A
L1 is lampholder 60 W in B

at BP
  W1.black -- BP.3
  W1.white -- BP.neutral
  W1.bare -- BP.ground

at A
  W1.black -- S1.line
  W2.black -- S1.load
  W1.white -- W2.white
  W1.bare -- W2.bare -- pigtail -- S1.ground

at B
  W2.black -- L1.hot
  W2.white -- L1.neutral
  W2.bare -- L1.ground

expect L1 from S1
"""

MISSPELT = RIGHT.replace("S1 is single-pole-switch", "S1 is single-pole-swich")
NEVER_LIT = RIGHT.replace("  W2.black -- S1.load\n", "  cap W2.black\n")
PART = 'part pull-chain "A pull chain"\nterminal a contact\nterminal b contact\na -- b\n'


def wirecheck(*arguments, stdin=b"", folder=None, pass_fds=(), preexec_fn=None, timeout=60, **environment):
    """Run a command as a process of its own, as a user does; its output is no terminal."""
    return subprocess.run(
        [sys.executable, "-W", "error", "-m", "wirecheck", *map(os.fspath, arguments)],
        input=stdin.encode() if isinstance(stdin, str) else stdin,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        pass_fds=pass_fds,
        preexec_fn=preexec_fn,
        timeout=timeout,
        check=False,
    )
