"""The door to the network, by real sockets on loopback: floods, drips and forged headers.

Addresses 127.0.0.2 and up are other visitors: all of 127.0.0.0/8 is loopback (RFC 6890).
"""

from __future__ import annotations

import socket
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, suppress
from typing import Any

import pytest

from coachbook.gate import DoorLimits, Gate, open_gate

pytestmark = pytest.mark.skipif(sys.platform == "darwin", reason="one loopback address only")

PAGE = b"GET / HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
HALF = b"GET / HTTP/1.1\r\nHost: x\r\nX-Wait: "
Opened = Callable[..., Gate]


def echo(environ: dict[str, Any], start_response: Any) -> list[bytes]:
    """Answers who asked, over which scheme."""
    environ["wsgi.input"].read()
    start_response("200 OK", [("Content-Type", "text/plain")])
    return [f"{environ['REMOTE_ADDR']} {environ['wsgi.url_scheme']}".encode()]


@pytest.fixture
def opened() -> Iterator[Opened]:
    """Opens a gate in a thread: ``opened(proxy="", application=echo, **limits)``; its port is
    free, and two threads read."""
    with ExitStack() as stack:

        def open_one(proxy: str = "", *, application: Any = echo, **limits: Any) -> Gate:
            quick = DoorLimits(**{"look": 0.1, **limits})
            gate = open_gate(application, "127.0.0.1", 0, threads=2, proxy=proxy, limits=quick)
            gate.adj.asyncore_loop_timeout = 0.05
            thread = threading.Thread(target=gate.run)
            thread.start()
            stack.callback(stop, gate, thread)
            return gate

        yield open_one


def stop(gate: Gate, thread: threading.Thread) -> None:
    for visit in gate.visits():
        visit.will_close = True
    until = time.monotonic() + 10
    while gate.visits() and time.monotonic() < until:
        time.sleep(0.02)
    gate.accepting = False
    gate.task_dispatcher.shutdown()
    gate.pull_trigger()
    time.sleep(0.1)
    gate._map.clear()
    thread.join(10)
    gate.socket.close()
    gate.trigger.close()


def visit(gate: Gate, source: str, sent: bytes = b"") -> socket.socket:
    address = ("127.0.0.1", gate.effective_port)
    found = socket.create_connection(address, 10, source_address=(source, 0))
    found.sendall(sent)
    return found


def answer(gate: Gate, source: str, sent: bytes = PAGE) -> bytes:
    with visit(gate, source, sent) as found:
        return whole(found)


def whole(found: socket.socket) -> bytes:
    parts = []
    while part := found.recv(65_536):
        parts.append(part)
    return b"".join(parts)


def closed_within(found: socket.socket, seconds: float) -> bool:
    found.settimeout(seconds)
    try:
        return whole(found) is not None
    except ConnectionResetError:
        return True
    except TimeoutError:
        return False


def dripped(found: socket.socket, most: float) -> float:
    """Seconds until the other side has had enough of one byte every tenth of a second."""
    began = time.monotonic()
    with suppress(OSError):
        while time.monotonic() - began < most:
            found.sendall(b"a")
            time.sleep(0.1)
    return time.monotonic() - began


@pytest.mark.parametrize("flood", ["127.0.0.2", "127.0.0.1"])
def test_half_open_requests_push_themselves_out(opened: Opened, flood: str) -> None:
    """105 half-open requests stopped the site; now others come in, and from that address too."""
    gate = opened(per_network=40)
    with ExitStack() as stack:
        for _ in range(150):
            stack.enter_context(visit(gate, flood, HALF))
        began = time.monotonic()
        assert answer(gate, "127.0.0.1").endswith(b"127.0.0.1 http")
        assert time.monotonic() - began < 5
        assert len(gate.visits()) <= 41


def test_a_flood_from_many_addresses_leaves_room(opened: Opened) -> None:
    gate = opened(per_network=20, connections=60)
    with ExitStack() as stack:
        for number in range(150):
            stack.enter_context(visit(gate, f"127.0.1.{number % 15 + 1}", HALF))
        assert answer(gate, "127.0.0.1").endswith(b"127.0.0.1 http")
        assert len(gate.visits()) <= 61


def test_a_header_that_drips_is_closed(opened: Opened) -> None:
    gate = opened(header_time=0.5)
    with visit(gate, "127.0.0.2", HALF) as found:
        assert dripped(found, 8) < 5


def test_a_body_that_drips_and_a_silent_visitor_are_closed(opened: Opened) -> None:
    gate = opened(header_time=0.5, body_time=0.8, idle=0.5)
    head = b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 1000\r\n\r\nabc"
    with visit(gate, "127.0.0.2", head) as slow, visit(gate, "127.0.0.2") as silent:
        assert closed_within(slow, 6)
        assert closed_within(silent, 6)


def test_unfinished_bodies_stay_small_and_off_the_disk(
    opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    files: list[object] = []
    monkeypatch.setattr(tempfile, "TemporaryFile", lambda *a: files.append(a))
    gate = opened(held=5_000_000)
    head = b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 1500000\r\n\r\n"
    with ExitStack() as stack:
        for _ in range(12):
            found = stack.enter_context(visit(gate, "127.0.0.2", head))
            found.sendall(b"b" * 1_400_000)
        until = time.monotonic() + 10
        while sum(v.held for v in gate.visits()) > 5_000_000 and time.monotonic() < until:
            time.sleep(0.05)
        assert sum(v.held for v in gate.visits()) <= 5_000_000
        assert answer(gate, "127.0.0.1").endswith(b"127.0.0.1 http")
    assert files == []


def test_a_body_beyond_the_limit_is_refused_by_its_length(opened: Opened) -> None:
    gate = opened()
    head = b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 4000000\r\nConnection: close\r\n\r\n"
    assert answer(gate, "127.0.0.2", head).startswith(b"HTTP/1.1 413")
    small = b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 3\r\nConnection: close\r\n\r\nabc"
    assert answer(gate, "127.0.0.2", small).endswith(b"127.0.0.2 http")


FORGED = PAGE[:-2] + b"X-Forwarded-For: 203.0.113.9\r\nX-Forwarded-Proto: https\r\n\r\n"


def test_only_the_proxy_is_believed(opened: Opened) -> None:
    gate = opened(proxy="127.0.0.3")
    assert answer(gate, "127.0.0.3", FORGED).endswith(b"203.0.113.9 https")
    assert answer(gate, "127.0.0.4", FORGED).endswith(b"127.0.0.4 http")
    assert answer(opened(), "127.0.0.3", FORGED).endswith(b"127.0.0.3 http")


def test_of_two_claimed_addresses_the_proxys_own_counts(opened: Opened) -> None:
    gate = opened(proxy="127.0.0.3")
    two = FORGED.replace(b"203.0.113.9", b"198.51.100.1, 203.0.113.9")
    assert answer(gate, "127.0.0.3", two).endswith(b"203.0.113.9 https")


def test_the_proxy_brings_more_than_one_visitor_may(opened: Opened) -> None:
    gate = opened(proxy="127.0.0.3", per_network=10)
    with ExitStack() as stack:
        for _ in range(30):
            stack.enter_context(visit(gate, "127.0.0.3", HALF))
        assert answer(gate, "127.0.0.1").endswith(b"127.0.0.1 http")
        assert len(gate.visits()) >= 30


# --- one request is one request: RFC 9112, 6.1, 6.3, 7.1 and 11.2 --------------------------

NEXT = b"GET /smuggled HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
POST = b"POST / HTTP/1.1\r\nHost: x\r\n"
TWO_ENDS = {
    "both lengths": POST + b"Transfer-Encoding: chunked\r\nContent-Length: 5\r\n\r\n0\r\n\r\n",
    "both, the other way": POST
    + b"Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
    "chunks in HTTP/1.0": b"POST / HTTP/1.0\r\nHost: x\r\nConnection: keep-alive\r\n"
    b"Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
    "two lengths": POST + b"Content-Length: 5\r\nContent-Length: 0\r\n\r\n",
    "two that agree": POST + b"Content-Length: 0\r\nContent-Length: 0\r\n\r\n",
    "a length with a sign": POST + b"Content-Length: +0\r\n\r\n",
    "a length in hex": POST + b"Content-Length: 0x0\r\n\r\n",
    "a coding nobody knows": POST + b"Transfer-Encoding: xchunked\r\n\r\n0\r\n\r\n",
    "a coding named twice": POST + b"Transfer-Encoding: chunked, identity\r\n\r\n0\r\n\r\n",
    "a space before the colon": POST + b"Transfer-Encoding : chunked\r\n\r\n0\r\n\r\n",
    "a tab in the name": POST + b"Transfer\tEncoding: chunked\r\n\r\n0\r\n\r\n",
    "a line feed in a value": POST + b"X: a\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
    "a chunk of less than nothing": POST + b"Transfer-Encoding: chunked\r\n\r\n-1\r\n\r\n",
    "a chunk in two notations": POST + b"Transfer-Encoding: chunked\r\n\r\n0x0\r\n\r\n",
    "a chunk longer than it says": POST
    + b"Transfer-Encoding: chunked\r\n\r\n1\r\nabc\r\n0\r\n\r\n",
    "a chunk with a line feed behind": POST + b"Transfer-Encoding: chunked\r\n\r\n0;a\nb\r\n\r\n",
}


def noting(paths: list[str]) -> Any:
    """An application that notes what it is asked for."""

    def application(environ: dict[str, Any], start_response: Any) -> list[bytes]:
        paths.append(environ["PATH_INFO"])
        return echo(environ, start_response)

    return application


@pytest.mark.parametrize("name", TWO_ENDS)
def test_a_request_with_two_ends_is_refused_and_nothing_after_it_is_read(
    opened: Opened, name: str
) -> None:
    paths: list[str] = []
    gate = opened(application=noting(paths))
    found = answer(gate, "127.0.0.2", TWO_ENDS[name] + NEXT)
    assert found.startswith((b"HTTP/1.1 400", b"HTTP/1.0 400", b"HTTP/1.1 501"))
    assert found.count(b"HTTP/1.") == 1
    assert paths == []


def test_two_requests_with_one_end_each_are_both_answered(opened: Opened) -> None:
    paths: list[str] = []
    gate = opened(application=noting(paths))
    chunked = POST + b"Transfer-Encoding: chunked\r\n\r\n3\r\nabc\r\n0\r\n\r\n"
    assert answer(gate, "127.0.0.2", chunked + NEXT).count(b"HTTP/1.1 200") == 2
    assert paths == ["/", "/smuggled"]


# --- who waits, and who does not read ------------------------------------------------------


def test_however_many_wait_to_change_something_pages_are_read(opened: Opened) -> None:
    """As where the database is held by somebody: before, eight phones that logged kept all."""
    let_go = threading.Event()

    def application(environ: dict[str, Any], start_response: Any) -> list[bytes]:
        if environ["REQUEST_METHOD"] == "POST":
            assert let_go.wait(30)
        return echo(environ, start_response)

    gate = opened(application=application)
    post = POST + b"Content-Length: 0\r\nConnection: close\r\n\r\n"
    with ExitStack() as stack:
        stack.callback(let_go.set)
        waiting = [stack.enter_context(visit(gate, "127.0.0.2", post)) for _ in range(6)]
        time.sleep(0.3)  # they have arrived
        for _ in range(3):
            assert answer(gate, "127.0.0.1").endswith(b"127.0.0.1 http")
        assert not let_go.is_set()
        let_go.set()
        assert all(whole(each).endswith(b"127.0.0.2 http") for each in waiting)


def test_who_asks_for_much_and_reads_nothing_keeps_no_thread(opened: Opened) -> None:
    def application(environ: dict[str, Any], start_response: Any) -> list[bytes]:
        if environ["PATH_INFO"] != "/much":
            return echo(environ, start_response)
        start_response("200 OK", [("Content-Length", "6000000")])
        return [b"a" * 6_000_000]

    gate = opened(application=application, idle=1.0)
    with ExitStack() as stack:
        for _ in range(8):
            stack.enter_context(visit(gate, "127.0.0.2", PAGE.replace(b"GET /", b"GET /much")))
        time.sleep(0.3)
        assert answer(gate, "127.0.0.1").endswith(b"127.0.0.1 http")
        until = time.monotonic() + 10
        while len(gate.visits()) and time.monotonic() < until:
            time.sleep(0.1)
        assert gate.visits() == []  # and what they do not read is not kept for them
