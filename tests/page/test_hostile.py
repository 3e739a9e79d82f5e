"""A server as a user runs it, asked by machines that mean harm: each has its answer, and harms no other."""

import os
import resource
import signal
import socket
import threading
import time
from contextlib import ExitStack, contextmanager
from pathlib import Path

import httpx
import pytest

from tests.benchmarks.hostile import BOARDS
from tests.cli.boards import RIGHT
from tests.cli.test_serve import children, slow_board
from tests.page.served import last_words, served
from wirecheck.page.connections import MOST, UNHEARD
from wirecheck.page.turns import LONG

pytestmark = pytest.mark.slow

SOON = 8.0
"""The seconds in which a reader is answered, whatever others do: generous, since tests run beside it."""
OTHER = "127.0.9.9"
"""A reader's machine, beside those that mean harm."""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "lamp.wire").write_text(RIGHT)
    return tmp_path


def ask(address, text=RIGHT, file="lamp.wire", machine=OTHER, to="check", seconds=SOON):
    """What a machine is told, within so many seconds."""
    transport = httpx.HTTPTransport(local_address=machine)
    with httpx.Client(transport=transport, base_url=address, timeout=seconds) as client:
        return client.post(f"/{to}", json={"file": file, "text": text}).json()


def opened(address, machine):
    """A connection of a machine."""
    host, port = address.removeprefix("http://").rsplit(":", 1)
    one = socket.socket()
    one.settimeout(3 * UNHEARD)
    one.bind((machine, 0))
    one.connect((host, int(port)))
    return one


def rest(connection):
    """What still comes on a connection until the other side closes it."""
    told = b""
    try:
        while piece := connection.recv(65536):
            told += piece
    except ConnectionError:
        pass
    return told


def is_open(connection):
    connection.setblocking(False)
    try:
        return connection.recv(1) != b""
    except BlockingIOError:
        return True
    except ConnectionError:
        return False


def head(length="", method="POST /check"):
    kind = f"{method} HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n"
    return (kind + (length and f"{length}\r\n") + "\r\n").encode()


@contextmanager
def meanwhile(does, *args):
    """Something that goes on beside."""
    beside = threading.Thread(target=does, args=args)
    beside.start()
    try:
        yield
    finally:
        beside.join()


def memory(server):
    """The megabytes of the server's own process."""
    return int(Path(f"/proc/{server.pid}/statm").read_text().split()[1]) * resource.getpagesize() / 2**20


def test_ten_thousand_connections_that_say_nothing_keep_nobody_out(folder):
    """As many at once as the test may open, of so many machines that they would take all places twice."""
    limit = resource.getrlimit(resource.RLIMIT_NOFILE)[0]
    at_once = min(2 * MOST, limit - 100)
    machines = 20
    with served(folder) as (address, server):
        ask(address)
        before = memory(server)
        for turn in range(10_000 // at_once):
            with ExitStack() as ends:
                those = [
                    ends.enter_context(opened(address, f"127.0.1.{number % machines + 1}"))
                    for number in range(at_once)
                ]
                assert ask(address)["passes"]
                if turn == 0:
                    kept = sum(map(is_open, those))
                    assert kept <= MOST
        assert ask(address, machine="127.0.1.1")["passes"]
        assert memory(server) < before + 50


def test_what_comes_byte_by_byte_is_closed_in_its_time(folder):
    """A head, a body, what nobody reads any more, and a second question: each would go on for ever."""
    dribbled = {
        "head": (b"POST /check HTTP/1.1\r\nX: ", b""),
        "body": (head("Content-Length: 100000"), b"HTTP/1.1 408 "),
        "pieces": (head("Transfer-Encoding: chunked") + b"FFFF\r\n", b"HTTP/1.1 408 "),
        "unread": (head("Content-Length: 100000", "GET /favicon.ico"), b"HTTP/1.1 204 "),
        "second": (
            head(method="GET /favicon.ico").replace(b"application/json", b"x") + b"GET / HTTP/1.1\r\nX: ",
            b"HTTP/1.1 204 ",
        ),
    }
    with served(folder) as (address, _), ExitStack() as ends:
        those = {}
        for number, (name, (begins, _)) in enumerate(dribbled.items()):
            those[name] = ends.enter_context(opened(address, f"127.0.1.{number + 1}"))
            those[name].sendall(begins)
        begun = time.monotonic()
        left = dict(those)
        answered = False
        while left and time.monotonic() - begun < 3 * UNHEARD - 5:
            for name, one in list(left.items()):
                try:
                    one.sendall(b"x")
                except ConnectionError:
                    del left[name]
            answered = answered or ask(address)["passes"]
            time.sleep(0.2)
        assert not left and answered
        for name, one in those.items():
            assert rest(one).startswith(dribbled[name][1]), name


def test_a_process_that_is_killed_in_mid_work_is_said_and_replaced(folder):
    with served(folder, "--seconds", "20", "--jobs", "2") as (address, server):
        told = []

        def send():
            told.append(ask(address, slow_board(), machine="127.0.1.1", seconds=30)["refused"])

        for _ in range(3):
            with meanwhile(send):
                time.sleep(1.5)
                for each in children(server.pid):
                    os.kill(int(each), signal.SIGKILL)
                assert ask(address)["passes"]
        assert any("SIGKILL" in one for one in told)
        assert all("SIGKILL" in one or "longer than 20 s" in one for one in told)
        assert ask(address)["passes"] and server.poll() is None


@pytest.mark.parametrize("part", range(6))
def test_each_slow_board_is_answered_or_refused_and_another_reader_meanwhile(folder, part):
    """Boards that are made to be slow, of two machines at once, each as often as it may."""
    boards = list(BOARDS.items())[part::6]
    for number, (_, made) in enumerate(boards):
        (folder / f"{number}").mkdir()
        (folder / f"{number}" / "board.wire").write_text(made.text)
        for name, text in made.parts.items():
            (folder / f"{number}" / f"{name}.wire").write_text(text)
    with served(folder, "--seconds", "3") as (address, server):

        def send(machine, those, told):
            for number, (name, made) in those:
                told[name] = ask(address, made.text, f"{number}/board.wire", machine, seconds=60)

        told = {}
        numbered = list(enumerate(boards))
        with (
            meanwhile(send, "127.0.1.1", numbered[::2], told),
            meanwhile(send, "127.0.1.2", numbered[1::2], told),
        ):
            while len(told) < len(boards) and server.poll() is None:
                assert ask(address)["passes"]
                time.sleep(0.5)
        assert told.keys() == dict(boards).keys()
        for name, one in told.items():
            assert "refused" in one or "verdict" in one, name
        for one in told.values():
            assert "defect" not in one.get("refused", "")


def begin(connection, address, text):
    """Ask on a connection, and do not wait."""
    body = httpx.Request("POST", address, json={"file": "lamp.wire", "text": text}).content
    connection.sendall(head(f"Content-Length: {len(body)}") + body)


def test_two_machines_with_long_work_hold_all_places_for_a_short_time_only(folder):
    with served(folder, "--seconds", "60", "--jobs", "3") as (address, _), ExitStack() as ends:
        for number in range(6):
            one = ends.enter_context(opened(address, f"127.0.1.{number % 2 + 1}"))
            begin(one, address, slow_board())
        time.sleep(1)
        assert ask(address, seconds=LONG + SOON)["passes"]
        assert ask(address, seconds=LONG + SOON)["passes"]


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_stop_in_mid_work_ends_all_of_it(folder, number):
    with served(folder) as (address, server), opened(address, "127.0.1.1") as one:
        begin(one, address, slow_board())
        with opened(address, "127.0.1.2") as other:
            other.sendall(head("Content-Length: 100000"))
            time.sleep(1.5)
            workers = children(server.pid)
            assert workers
            begun = time.monotonic()
            server.send_signal(number)
            _, err = last_words(server)
            assert time.monotonic() - begun < SOON
            assert rest(one).startswith(b"HTTP/1.1 503 ")
    assert server.returncode == 128 + number and err == "wirecheck: stopped.\n"
    assert not any(Path(f"/proc/{each}").exists() for each in workers)


def test_work_that_is_cancelled_is_ended_and_its_place_is_free(folder):
    with served(folder, "--seconds", "60", "--jobs", "1") as (address, server):
        assert ask(address)["passes"]
        for to in ("mends", "check"):
            workers = children(server.pid)
            with pytest.raises(httpx.ReadTimeout):
                ask(address, slow_board(), machine="127.0.1.1", to=to, seconds=1.5)
            assert ask(address)["passes"]
            assert not workers & children(server.pid)


@pytest.mark.parametrize("length", ["Content-Length: 100000000", "Transfer-Encoding: chunked"])
def test_a_hundred_bodies_of_100_mb_are_refused_early(folder, length):
    with served(folder) as (address, server), ExitStack() as ends:
        assert ask(address)["passes"]
        before = memory(server)
        piece = b"x" * 65536
        if "chunked" in length:
            piece = b"10000\r\n" + piece + b"\r\n"
        sent = []

        def send(number):
            with opened(address, f"127.0.1.{number % 20 + 1}") as one:
                came = 0
                try:
                    one.sendall(head(length))
                    while came < 100_000_000:
                        one.sendall(piece)
                        came += len(piece)
                except ConnectionError:
                    pass
                sent.append(came)
                told = rest(one)
                assert not told or told.startswith((b"HTTP/1.1 413 ", b"HTTP/1.1 503 "))

        begun = time.monotonic()
        for number in range(100):
            ends.enter_context(meanwhile(send, number))
        assert ask(address)["passes"]
        highest = memory(server)
        while len(sent) < 100 and time.monotonic() - begun < 25:
            highest = max(highest, memory(server))
            time.sleep(0.1)
        assert len(sent) == 100 and max(sent) < 100_000_000
        assert highest < before + 100
        assert ask(address)["passes"]
