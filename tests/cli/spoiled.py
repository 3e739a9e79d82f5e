"""Makes the work on a file fail by a word in its board's title, in whatever process the work is done.

Python reads `sitecustomize` at its start from the folder that a test puts on its path: that file calls this.
The product knows nothing of it.
"""

import os
import signal
import sys
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import PathFinder

from tests.cli.boards import RIGHT, ROOT

START = "from tests.cli.spoiled import install\ninstall()\n"


def titled(word):
    """The board that does as its title says."""
    return RIGHT.replace("Boathouse lamp", word)


def endless():
    while True:
        pass


def greedy():
    held = []
    while True:
        held.append(bytearray(10_000_000))


def deep():
    deep()


def failing():
    raise LookupError("a secret of the file\x1b[2J")


DEEDS = {
    "ENDLESS": endless,
    "GREEDY": greedy,
    "DEEP": deep,
    "FAILING": failing,
    "OUT": lambda: os._exit(3),
    "LEAVING": lambda: sys.exit(0),
    "KILLED": lambda: os.kill(os.getpid(), signal.SIGKILL),
    "CRASHED": lambda: os.kill(os.getpid(), signal.SIGSEGV),
}


class Spoiling(MetaPathFinder, Loader):
    """Finds one module as Python would, and puts the deeds before what builds a board."""

    def find_spec(self, name, path=None, target=None):
        if name != "wirecheck.assembly":
            return None
        spec = PathFinder.find_spec(name, path, target)
        right = spec.loader.exec_module

        def exec_module(module):
            right(module)
            read = module.read

            def spoiled(text, file="-"):
                syntax = read(text, file)
                for word, deed in DEEDS.items():
                    if f'board "{word}"' in syntax.text:
                        deed()
                return syntax

            module.read = spoiled

        spec.loader.exec_module = exec_module
        return spec


def install():
    sys.meta_path.insert(0, Spoiling())


def environment(folder):
    """The environment of a process in which the deeds are done."""
    (folder / "sitecustomize.py").write_text(START)
    return {"PYTHONPATH": os.pathsep.join((str(folder), str(ROOT)))}
