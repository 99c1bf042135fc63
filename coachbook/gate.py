"""The door to the network: waitress, with limits that one visitor cannot use up for the others.

A connection that is not being answered waits: it is idle, or its request is unfinished. There
are three limits, on the time that a request takes to arrive, on the number of connections (in
all, and from one network), and on the bytes of requests that are held in memory; nothing of a
request touches the disk. Where a number is full the oldest waiting connection makes room, of
the address that holds most; so a flood pushes itself out, and a hall behind one router is
never locked out. Behind a trusted proxy the number per network is the proxy's business.

What changes something may have to wait its turn at the database, and keeps a thread while it does.
It has threads of its own, so that however many wait, pages are read.

A request whose length can be read in two ways is refused, and its connection closed: a proxy that
reads it the other way would take its end for the next visitor's beginning (RFC 9112, 6.1 and 11.2).
"""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from ipaddress import ip_network
from typing import Any

from waitress.adjustments import Adjustments
from waitress.channel import HTTPChannel
from waitress.parser import HTTPRequestParser, ParsingError
from waitress.server import TcpWSGIServer
from waitress.task import ThreadedTaskDispatcher

TRUSTED = {"x-forwarded-for", "x-forwarded-proto"}
SAFE = {"GET", "HEAD", "OPTIONS", "TRACE"}  # they change nothing: RFC 9110, 9.2.1


@dataclass(frozen=True, slots=True)
class DoorLimits:
    """Connections, bytes and seconds."""

    connections: int = 400  # in all; a process may open 1,024 files on most systems
    per_network: int = 100  # a hall behind one router: thirty phones with three each
    header: int = 32_768
    body: int = 4_000_000  # an upload of one million, four times over
    held: int = 64_000_000  # of all requests that have not been answered
    header_time: float = 20.0  # from the first byte of a request to the end of its header
    body_time: float = 120.0  # to its last byte: a megabyte from a phone at the edge of the signal
    idle: float = 60.0  # between two requests
    look: float = 2.0  # how often the time is looked at


class OneRequest(HTTPRequestParser):  # type: ignore[misc]
    """A request with one end, whoever reads it."""

    def parse_header(self, header_plus: bytes) -> None:
        super().parse_header(header_plus)
        two_lengths = self.chunked and "CONTENT_LENGTH" in self.headers
        is_too_old = "TRANSFER_ENCODING" in self.headers  # waitress heeds it from HTTP/1.1 on
        if two_lengths or is_too_old:
            raise ParsingError("The length of this request can be read in two ways")


class Visit(HTTPChannel):  # type: ignore[misc]
    """One connection, which knows since when its request has been arriving."""

    parser_class = OneRequest
    begun_at = 0.0

    def received(self, data: bytes) -> bool:
        if self.request is None:
            self.begun_at = time.time()
        going_on: bool = super().received(data)
        if self.request is not None and self.request.headers_finished:
            self.server.hold_no_more_than_allowed()
        return going_on

    @property
    def is_waiting(self) -> bool:
        """Nothing is being computed for it: it is idle, unfinished, or reads its answer."""
        return not self.requests and not self.will_close

    @property
    def changes_something(self) -> bool:
        """Whether the request whose turn it is says so by its method."""
        return getattr(self.requests[0], "command", "GET") not in SAFE

    @property
    def held(self) -> int:
        """Bytes of bodies in memory."""
        unfinished = [self.request] if self.request is not None else []
        return sum(each.body_bytes_received for each in (*self.requests, *unfinished))

    @property
    def network(self) -> str:
        """Whom to count it for: an address, or the 64-bit prefix that one IPv6 visitor has."""
        address: str = self.addr[0]
        if ":" not in address:
            return address
        return str(ip_network((address.partition("%")[0], 64), strict=False))

    def is_late(self, now: float, limits: DoorLimits) -> bool:
        if not self.is_waiting:
            return False
        if self.request is not None:
            in_body = self.request.headers_finished
            return now - self.begun_at > (limits.body_time if in_body else limits.header_time)
        is_fresh = self.last_activity == self.creation_time  # it has never said anything
        patience = limits.header_time if is_fresh else limits.idle
        return bool(now - self.last_activity > patience)


class TwoLanes(ThreadedTaskDispatcher):  # type: ignore[misc]
    """Threads for those who read, and half as many for those who change something."""

    def __init__(self, threads: int) -> None:
        super().__init__()
        self._changing = ThreadedTaskDispatcher()
        self.set_thread_count(threads)
        self._changing.set_thread_count(max(1, threads // 2))

    def add_task(self, task: Visit) -> None:
        if task.changes_something:
            self._changing.add_task(task)
        else:
            super().add_task(task)

    def shutdown(self, *args: Any, **kwargs: Any) -> bool:
        """End both lanes; whether the first had anything left."""
        self._changing.shutdown(*args, **kwargs)
        ended: bool = super().shutdown(*args, **kwargs)
        return ended


class Gate(TcpWSGIServer):  # type: ignore[misc]
    """A listening socket that makes room before it lets somebody in."""

    channel_class = Visit
    limits = DoorLimits()

    def handle_accept(self) -> None:
        super().handle_accept()
        self._make_room()

    def maintenance(self, now: float) -> None:
        """Close what has been arriving, or idle, for too long."""
        for visit in self.visits():
            if visit.is_late(now, self.limits):
                visit.will_close = True

    def visits(self) -> list[Visit]:
        """Every open connection, of this socket and those beside it."""
        found = (each for each in self._map.values() if isinstance(each, Visit))
        return [visit for visit in found if not visit.will_close]

    def hold_no_more_than_allowed(self) -> None:
        """Let the largest unfinished request go when all of them hold too much."""
        visits = self.visits()
        if sum(visit.held for visit in visits) > self.limits.held:
            waiting = [visit for visit in visits if visit.is_waiting]
            max(waiting, key=lambda visit: visit.held).will_close = True

    def _make_room(self) -> None:
        """One came in: where that is one too many, the one that has waited longest goes."""
        visits = self.visits()
        count = Counter(v.network for v in visits if v.addr[0] != self.adj.trusted_proxy)
        crowded = {network for network, n in count.items() if n > self.limits.per_network}
        for network in crowded:
            _let_oldest_go([visit for visit in visits if visit.network == network])
        if len(visits) - len(crowded) > self.limits.connections:
            most = max((visit.network for visit in visits), key=lambda each: count[each])
            _let_oldest_go([v for v in visits if v.network == most and v.is_waiting] or visits)


def _let_oldest_go(visits: Iterable[Visit]) -> None:
    waiting = [visit for visit in visits if visit.is_waiting]
    min(waiting, key=lambda visit: visit.last_activity).will_close = True


def open_gate(
    application: Any,
    host: str,
    port: int,
    *,
    threads: int,
    proxy: str = "",
    limits: DoorLimits | None = None,
) -> Gate:
    """A server that listens; its ``run`` serves until interrupted. Only ``proxy`` is believed.

    ``threads`` read, and half as many besides change things.
    """
    limits = limits or DoorLimits()
    adjustments = _adjustments(host, port, threads, proxy, limits)
    dispatcher = TwoLanes(threads)
    beside: dict[int, Any] = {}
    gates = [
        Gate(application, map=beside, dispatcher=dispatcher, adj=adjustments, sockinfo=address)
        for address in adjustments.listen
    ]
    for gate in gates:
        gate.limits = limits
    return gates[0]


def _adjustments(host: str, port: int, threads: int, proxy: str, limits: DoorLimits) -> Adjustments:
    found = Adjustments(
        host=host,
        port=port,
        threads=threads,
        ident="coachbook",
        connection_limit=10 * limits.connections,  # ours makes room; waitress's stops the site
        max_request_header_size=limits.header,
        max_request_body_size=limits.body,
        inbuf_overflow=limits.body + 1,
        asyncore_use_poll=True,
        clear_untrusted_proxy_headers=True,
        **_trusting(proxy),
    )
    found.cleanup_interval = limits.look
    return found


def _trusting(proxy: str) -> dict[str, Any]:
    """From a trusted proxy: who the visitor is, and whether they came over https."""
    if not proxy:
        return {}
    headers = " ".join(sorted(TRUSTED))
    return {
        "trusted_proxy": proxy,
        "trusted_proxy_count": 1,
        "trusted_proxy_headers": headers,
    }
