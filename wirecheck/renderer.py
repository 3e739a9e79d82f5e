"""The renderer of pictures: Graphviz as WebAssembly, compiled for the machine once and kept.

To compile it takes longer than all else that a picture needs. What was kept is used only where
it was made of the same WebAssembly; that it is for this version of wasmtime and for this processor,
wasmtime sees to. Otherwise it is compiled, and kept for the next time. In a browser, the browser runs it.
"""

from __future__ import annotations

import atexit
import functools
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, NamedTuple, cast

from wirecheck import files, kept

if TYPE_CHECKING:
    from wasmtime import Engine, Module

NAME = "graphviz"
IN_BROWSER = "graphviz_in_browser"
"""The name by which Python in a browser finds what Graphviz exports there."""


def rendered(source: str) -> str:
    """What Graphviz makes of a source that gives all positions, as SVG.

    Raises
    ------
    ValueError
        Graphviz refuses the source.

    >>> rendered("graph g { }").startswith("<?xml")
    True
    """
    run = _running()
    asked = [run.put(text) for text in (source, "svg", "nop2")]
    length = run.room(4)
    try:
        made = run.call("graphviz_render", *asked, length)
        if not made:
            raise ValueError(run.text(run.call("graphviz_last_error")) or "Graphviz made no picture")
        size = int.from_bytes(run.read(length, 4), "little")
        try:
            return run.read(made, size).decode("utf-8")
        finally:
            run.free(made)
    finally:
        for address in (*asked, length):
            run.free(address)


class _Running(NamedTuple):
    """Graphviz, ready to be called, and its memory."""

    call: Callable[..., Any]
    read: Callable[[int, int], bytes]
    write: Callable[[int, bytes], None]

    def room(self, size: int) -> int:
        return cast(int, self.call("malloc", size))

    def free(self, address: int) -> None:
        self.call("graphviz_free", address)

    def put(self, text: str) -> int:
        data = text.encode("utf-8") + b"\0"
        address = self.room(len(data))
        self.write(address, data)
        return address

    def text(self, address: int) -> str:
        found = self.read(address, 4096)
        return found[: found.index(0)].decode("utf-8", "replace")


FUNCTIONS = ("graphviz_render", "graphviz_last_error", "graphviz_free", "malloc")


@functools.cache
def _running() -> _Running:
    """Graphviz as it runs in this process; it sees no file and no other input than what it is given."""
    if sys.platform == "emscripten":
        return _in_browser()
    from wasmtime import Engine, Func, Linker, Memory, Store, WasiConfig

    engine = Engine()
    store, linker = Store(engine), Linker(engine)
    linker.define_wasi()
    store.set_wasi(WasiConfig())
    exports = linker.instantiate(store, _module(engine)).exports(store)
    memory = exports["memory"]
    assert isinstance(memory, Memory)
    functions = {}
    for name in FUNCTIONS:
        function = exports[name]
        assert isinstance(function, Func)
        functions[name] = function
    # It has to go before the end of the process takes wasmtime's own modules apart.
    atexit.register(_running.cache_clear)

    def write(address: int, data: bytes) -> None:
        memory.write(store, data, address)

    return _Running(
        lambda name, *arguments: functions[name](store, *arguments),
        lambda address, size: bytes(memory.read(store, address, address + size)),
        write,
    )


def _in_browser() -> _Running:
    """Graphviz as the browser runs it that runs this Python too: `page/shown/worker.js` began both."""
    from importlib import import_module

    exports, script = import_module(IN_BROWSER), import_module("js")

    def view(address: int, size: int) -> Any:
        # The memory is another one whenever it has grown.
        return script.Uint8Array.new(exports.memory.buffer, address, size)

    return _Running(
        lambda name, *arguments: getattr(exports, name)(*arguments),
        lambda address, size: bytes(view(address, size).to_bytes()),
        lambda address, data: view(address, len(data)).assign(data),
    )


def _module(engine: Engine) -> Module:
    """Graphviz compiled: as it was kept, or anew."""
    from wasmtime import Module, WasmtimeError

    source = files.graphviz_code()
    compiled = kept.kept(NAME, source)
    if compiled is not None:
        try:
            return Module.deserialize(engine, compiled)
        except WasmtimeError:
            pass  # It is of another version, or for another processor.
    module = Module(engine, source)
    kept.keep(NAME, source, bytes(module.serialize()))
    return module
