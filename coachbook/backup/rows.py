"""The rows of a club as lines of JSON, the same bytes on every database.

One line a row, in the order of the primary keys, with Django's own serializer: what another
program reads needs nothing of ours. Left out is what belongs to one server and one evening:
sessions, wrong passwords, forms that were sent.
"""

from __future__ import annotations

import datetime
import hashlib
import io
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Final

from django.apps import apps
from django.core import serializers
from django.core.serializers.json import DjangoJSONEncoder
from django.db import models

APPS: Final = ("shared", "plays", "roster", "practice")
LEFT_OUT: Final = frozenset({"shared.sentform", "shared.opensession"})
AT_ONCE: Final = 2_000  # rows fetched in one piece


class ExactEncoder(DjangoJSONEncoder):
    """Moments to the microsecond; Django's own encoder cuts them to the millisecond."""

    def default(self, o: Any) -> Any:
        if isinstance(o, datetime.datetime | datetime.time):
            return o.isoformat()
        return super().default(o)


@dataclass(frozen=True, slots=True)
class Table:
    """How many rows a model has, and the SHA-256 of their lines."""

    rows: int
    sha256: str


def kept_models() -> dict[str, type[models.Model]]:
    """Every model whose rows are kept, by its label in lower case."""
    found = (
        (f"{app}.{model.__name__.lower()}", model)
        for app in APPS
        for model in apps.get_app_config(app).get_models()
    )
    return {label: model for label, model in found if label not in LEFT_OUT}


def lines_of(model: type[models.Model], using: str) -> Iterator[str]:
    """A model's rows, one line each with its newline."""
    rows: models.QuerySet[models.Model] = models.QuerySet(model, using=using)
    writer = serializers.get_serializer("jsonl")()
    for row in rows.order_by("pk").iterator(AT_ONCE):
        out = io.StringIO()
        writer.serialize([row], stream=out, cls=ExactEncoder, sort_keys=True)
        yield out.getvalue()


def summed(lines: Iterable[str]) -> Table:
    """Count and digest. A line counts by what it says: PostgreSQL knows no minus zero."""
    digest, rows = hashlib.sha256(), 0
    for line in lines:
        said = json.loads(line, parse_float=lambda number: float(number) + 0.0)
        digest.update(json.dumps(said, sort_keys=True).encode())
        rows += 1
    return Table(rows, digest.hexdigest())
