"""Input that nobody means: values, the doors that take them, and one try at a door."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any, Final
from urllib.parse import quote

from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction
from django.test import Client
from django.urls import reverse

from coachbook.demo.files import demo_play
from plays.core.document.file import to_json
from roster.core.file.cells import COLUMNS
from tests.cast import Cast
from tests.coachbook.test_access import TABLE, address

VALUES: Final = (
    *("", " ", "0", "-1", "1", "2", "²", "٣", "1e400", "nan", "-inf", "9" * 5_000, str(2**31)),
    *(str(2**63), str(2**64), "-9223372036854775809", "1.5", "1_0", "0x10", "true", "null", "[]"),
    *("a\0b", "\0", "\ud800", "a\udfff", "\ufeff", "\u202e", "🏀", "x" * 5_000, "\r\n", "\t"),
    *("9999-12-31", "0001-01-01", "0000-00-00", "2026-02-30", "10000-01-01", "9999-12"),
    *("9999-12-31T23:59:59+00:00", "0001-01-01T00:00", "24:00", "23:59:59.999999", "00:00"),
    *("{5}", "{", "}{", "{5}{5}{9}", "%s%(n)d", "<script>", "'\"", "../../x", "1,2", "1.2.3"),
    *("a\u0301\u0323" * 2_000, ",;\t|" * 500, "=1+1", "template-x", "pattern-²", "practice-9" * 9),
)
# What views read from the address beside the fields of the forms on their pages.
ASKED: Final = (
    *("month", "play", "mode", "game", "out", "ready", "paper", "practice", "format", "what"),
    *("scale", "scheme", "phase", "mirror", "slide", "turn", "rules", "team", "age", "effort"),
    *("defence", "counter", "text", "situation", "series", "level", "shelf", "five", "on"),
    *("names", "margin", "court", "next", "from", "to", "depth", "role", "sort", "q", "legend"),
)
# These begin a process, sum a whole library up, or end the session.
LEFT_OUT: Final = {
    "propose-cast",
    "improve",
    "more-checks",
    "sign-out",
    "calibrate",
    "starter-plays",
}
BIG_IDS: Final = ("0", str(2**31), str(2**63 - 1), str(2**63), "9" * 5_000)


@dataclass(slots=True)
class Form(HTMLParser):
    """The forms of a page: where each goes, and its fields as a browser would send them."""

    forms: list[tuple[str, str, dict[str, str]]] = field(default_factory=list)

    def __post_init__(self) -> None:
        HTMLParser.__init__(self)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.forms.append((said.get("method", "get"), said.get("action", ""), {}))
        elif tag in {"input", "select", "textarea", "button"} and "name" in said and self.forms:
            self.forms[-1][2].setdefault(said["name"], said.get("value", ""))


@dataclass(frozen=True, slots=True)
class Door:
    """A place where input comes in: a GET with its query, or a form with its usual fields."""

    name: str
    path: str
    method: str
    fields: tuple[tuple[str, str], ...]


def doors(cast: Cast, client: Client) -> list[Door]:
    """Every page with what its address may say, and every form on every page."""
    found: dict[tuple[str, str, str], Door] = {}
    for name in sorted(set(TABLE) - LEFT_OUT):
        path = address(name, cast)
        answer = client.get(path)
        if answer.status_code != 405:
            found[name, path, "get"] = Door(name, path.split("?")[0], "get", ())
        if "html" not in answer.headers.get("Content-Type", ""):
            continue
        page = Form()
        page.feed(answer.content.decode())
        for method, action, fields in page.forms:
            where = action or path
            if method == "post" and not _left_out(where):
                usual = tuple((key, value) for key, value in fields.items() if key != "once")
                key = (where, ",".join(sorted(fields)), "post")
                found.setdefault(key, Door(name, where, "post", usual))
    return list(found.values())


def _left_out(where: str) -> bool:
    ends = ("/propose/", "/improve/", "/more/", "/sign-out/", "/calibrate/", "/starter/")
    return where.endswith(ends)


def encoded(fields: Sequence[tuple[str, str]]) -> str:
    """A query or a form's body; half a letter goes as the bytes that a broken client sends."""
    return "&".join(
        f"{quote(name)}={quote(value.encode('utf-8', 'surrogatepass'))}" for name, value in fields
    )


def knock(client: Client, door: Door, chance: random.Random) -> tuple[int, str]:
    """One try at a door: the answer's status and what was sent."""
    if door.method == "get":
        if chance.random() < 0.25:
            path = re.sub(
                r"(?<=/)\d+(?=[/.])", lambda _: chance.choice(BIG_IDS), door.path, count=1
            )
            return client.get(path).status_code, f"GET {path[:80]}"
        names = chance.sample(ASKED, chance.randint(1, 4))
        query = encoded([(name, chance.choice(VALUES)) for name in names])
        return client.get(f"{door.path}?{query}").status_code, f"GET {door.path}?{query[:300]}"
    fields = dict(door.fields)
    for name in chance.sample(sorted(fields), min(len(fields), chance.randint(1, 3))):
        fields[name] = chance.choice(VALUES)
    body = encoded(list(fields.items()))
    kind = "application/x-www-form-urlencoded"
    status = client.post(door.path, body, content_type=kind).status_code
    return status, f"POST {door.path} {body[:400]}"


def knock_with_file(cast: Cast, client: Client, chance: random.Random) -> tuple[int, str]:
    """A roster, a play, a library, waiting reps or a batch of taps, with something broken in it."""
    kind = chance.choice(("roster", "play", "taps file", "taps"))
    if kind == "roster":
        path, data = reverse("import-roster", args=[cast.team.pk]), _roster(chance)
    elif kind == "play":
        path, data = reverse("import-plays"), _spoilt_text(to_json(demo_play("gangway")), chance)
    else:
        data = _spoilt_text({"version": 1, "taps": [_rep(cast), _rep(cast)]}, chance)
        path = reverse("held-reps" if kind == "taps file" else "taps", args=[cast.team.pk])
    if kind == "taps":
        status = client.post(path, data, content_type="application/json").status_code
    else:
        status = client.post(path, {"file": SimpleUploadedFile("x", data)}).status_code
    return status, f"{kind}: {data[:400]!r}"


def _rep(cast: Cast) -> dict[str, Any]:
    five = {str(role): who.pk for role, who in enumerate(cast.players[:5], start=1)}
    key = f"00000000-0000-4000-8000-{random.randrange(10**12):012d}"
    about = {"practice": cast.practice.pk, "play": cast.entry.pk, "mode": "live", "clean": True}
    return {"kind": "rep", "id": key, "at": "2026-11-01T10:00:00Z", "cast": five, **about}


def _roster(chance: random.Random) -> bytes:
    rows = [[chance.choice(VALUES) for _ in COLUMNS] for _ in range(chance.randint(1, 4))]
    for row in rows[1:]:
        row[:2] = ["Ida", "7"]
    lines = [",".join(COLUMNS), *(",".join(row) for row in rows)]
    return _broken("\n".join(lines).encode("utf-8", "surrogatepass"), chance)


def _spoilt_text(document: Any, chance: random.Random) -> bytes:
    for _ in range(chance.randint(1, 3)):
        _spoil(document, chance)
    return _broken(json.dumps(document).encode("utf-8", "surrogatepass"), chance)


def _spoil(value: Any, chance: random.Random) -> None:
    """Another value somewhere in a document."""
    while isinstance(value, dict | list) and value:
        keys = list(value) if isinstance(value, dict) else range(len(value))
        key: Any = chance.choice(list(keys))
        if not isinstance(value[key], dict | list) or not value[key] or chance.random() < 0.2:
            odd: tuple[Any, ...] = (
                *VALUES,
                2**63,
                -1,
                1e300,
                float("nan"),
                None,
                True,
                [],
                {},
                [[]] * 200,
            )
            value[key] = chance.choice(odd)
            return
        value = value[key]


def _broken(data: bytes, chance: random.Random) -> bytes:
    """Now and then some bytes are lost, doubled or others."""
    if chance.random() < 0.7 or not data:
        return data
    at = chance.randrange(len(data))
    return data[:at] + chance.choice((b"", b"\0", b"\xff\xfe", b"[" * 5_000, data)) + data[at + 1 :]


def failures(cast: Cast, tries: int, seed: int) -> list[str]:
    """What answered with a server error, of so many tries; each is undone before the next."""
    chance = random.Random(seed)
    client = cast.client(cast.runner)
    client.raise_request_exception = False
    places = doors(cast, client)
    found = []
    for number in range(tries):
        with transaction.atomic():
            if number % 5 == 0:
                status, sent = knock_with_file(cast, client, chance)
            else:
                status, sent = knock(client, chance.choice(places), chance)
            transaction.set_rollback(True)
        if status >= 500:
            found.append(f"{status} {sent}")
    return found
