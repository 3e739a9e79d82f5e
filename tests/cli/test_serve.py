"""`wirecheck serve` as a user runs it: where it says it is, what it bounds, how it ends."""

import signal
import socket
import time
from pathlib import Path

import httpx
import pytest

from tests.cli.boards import RIGHT, wirecheck
from tests.page.served import last_words, served
from wirecheck.page.connections import MOST_OF_ONE, UNHEARD


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "lamp.wire").write_text(RIGHT)
    return tmp_path


@pytest.mark.slow
def test_a_folder_that_is_not_there_and_an_address_that_is_none_are_said(tmp_path):
    done = wirecheck("serve", "none", folder=tmp_path)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr == b"wirecheck: none cannot be read: there is no such file or folder.\n"


@pytest.mark.slow
def test_a_port_that_is_taken_is_said(folder):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        done = wirecheck("serve", ".", "--port", str(port), folder=folder)
    assert done.returncode == 2
    assert f"cannot serve at 127.0.0.1, port {port}: ".encode() in done.stderr
    for host in ("no.such.host.invalid", "\u00e9" * 80):
        assert b"cannot serve at" in wirecheck("serve", "--host", host, folder=folder).stderr


def asked(address, text, **more):
    question = {"file": "lamp.wire", "text": text, **more}
    return httpx.post(f"{address}/check", json=question, timeout=30).json()


def slow_board():
    """One that takes some seconds to be read alone."""
    return 'board "Slow"\npanel LP 120/240 V, 10 kA available\n' + "".join(
        f"breaker LP.{2 * number + 1} 15 A\nbox B{number} device 20 cu in\n"
        f"cable W{number} 14/2 NM-B 9 ft from LP to B{number}\nS{number} is 4-way-switch in B{number}\n"
        f"at LP\n  W{number}.black -- LP.{2 * number + 1}\n  W{number}.white -- LP.neutral\n"
        f"at B{number}\n  W{number}.black -- S{number}.in-1\n"
        for number in range(4000)
    )


def children(pid):
    tasks = Path(f"/proc/{pid}/task").iterdir()
    return {child for task in tasks for child in (task / "children").read_text().split()}


@pytest.mark.slow
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_it_stops_cleanly_and_leaves_the_folder_as_it_was(folder, number):
    with served(folder) as (address, server):
        assert asked(address, RIGHT + "\n# typed")["passes"]
        workers = children(server.pid)
        assert workers
        server.send_signal(number)
        out, err = last_words(server)
    assert server.returncode == 128 + number
    assert "only this machine" not in out.lower() and "Every machine" not in out
    assert "de-energize" in out and err == "wirecheck: stopped.\n"
    assert not any(Path(f"/proc/{each}").exists() for each in workers)
    assert [(path.name, path.read_text()) for path in folder.iterdir()] == [("lamp.wire", RIGHT)]


@pytest.mark.slow
def test_it_says_what_it_means_to_open_it_to_others(folder):
    with served(folder, "--host", "0.0.0.0") as (_, server):
        server.send_signal(signal.SIGINT)
        out = " ".join(last_words(server)[0].split())
    assert "Every machine that can reach this one can open them" in out
    assert "is not encrypted. They cannot change a file." in out


@pytest.mark.slow
def test_a_board_made_to_be_slow_is_ended_and_harms_no_other(folder):
    with served(folder, "--seconds", "2") as (address, _):
        begun = time.monotonic()
        assert "longer than 2 s" in asked(address, slow_board())["refused"] and time.monotonic() - begun < 10
        assert asked(address, RIGHT)["passes"]


@pytest.mark.slow
def test_hostile_senders_get_a_clear_answer_and_the_next_one_is_served(folder):
    kind = {"content-type": "application/json"}
    with served(folder) as (address, _):
        host, port = address.removeprefix("http://").rsplit(":", 1)
        with socket.create_connection((host, int(port))) as one:  # 100 MB are told of, and none need come.
            head = f"POST /check HTTP/1.1\r\nHost: {host}\r\nContent-Type: application/json\r\n"
            one.sendall(f"{head}Content-Length: 100000000\r\n\r\n".encode() + b"x" * 100)
            assert one.recv(100).startswith(b"HTTP/1.1 413 ")
        with socket.create_connection((host, int(port))) as one:
            one.sendall(b"\xff\x00\r\n\r\n")
            assert one.recv(100).startswith(b"HTTP/1.1 400 ")
        for body in (b"\xff\xfe", b"[" * 1000000, b'{"file": "../lamp.wire", "text": ""}', b"\x1f\x8b" * 9):
            answer = httpx.post(f"{address}/check", content=body, headers=kind)
            assert answer.status_code in (400, 404) and answer.json()["refused"]
        assert asked(address, RIGHT, moved={"<b>": "\x00"})["passes"]


@pytest.mark.slow
def test_connections_that_say_nothing_are_closed_and_hold_up_nobody(folder):
    with served(folder) as (address, _):
        host, port = address.removeprefix("http://").rsplit(":", 1)
        silent = [socket.create_connection((host, int(port))) for _ in range(MOST_OF_ONE + 50)]
        begun = time.monotonic()
        for one in silent[MOST_OF_ONE:]:  # One machine has no more than its share,
            one.settimeout(5)
            assert closed(one)
        other = httpx.HTTPTransport(local_address="127.0.0.7")
        with httpx.Client(transport=other, base_url=address, timeout=30) as client:  # others have theirs,
            assert client.post("/check", json={"file": "lamp.wire", "text": RIGHT}).json()["passes"]
        for one in silent[:MOST_OF_ONE]:  # and a place that is not used is free again.
            one.settimeout(2 * UNHEARD)
            assert closed(one)
        assert time.monotonic() - begun > UNHEARD / 2
        assert asked(address, RIGHT)["passes"]
        for one in silent:
            one.close()


def closed(connection):
    """Whether the other side closes it, without a word."""
    try:
        return connection.recv(1) == b""
    except ConnectionResetError:
        return True


@pytest.mark.slow
def test_a_process_made_later_keeps_no_copy_of_a_connection(folder):
    """Whoever waits for the end of an answer sees it, though a process was copied while it was open."""
    with served(folder, "--seconds", "1", "--jobs", "1") as (address, server):
        host, port = address.removeprefix("http://").rsplit(":", 1)
        with socket.create_connection((host, int(port))) as held:
            held.settimeout(10)
            before = children(server.pid)
            assert "longer than 1 s" in asked(address, slow_board())["refused"]
            assert asked(address, RIGHT)["passes"] and children(server.pid) != before
            held.sendall(f"GET /favicon.ico HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n".encode())
            answer = b""
            while piece := held.recv(1000):
                answer += piece
        assert answer.startswith(b"HTTP/1.1 204 ")


@pytest.mark.slow
def test_what_cannot_be_the_record_is_said(folder):
    done = wirecheck("serve", ".", "--record", "lamp.wire", folder=folder)
    assert done.returncode == 2 and b"lamp.wire cannot be used as the record: " in done.stderr
    assert (folder / "lamp.wire").read_text() == RIGHT
