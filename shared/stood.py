"""Two people at one form: the second sees what the first has saved, beside what they typed.

The form carries a mark of the values that it was shown with. Where the row holds others when
the form comes back, nothing is saved: each field that differs says what stands there now, and
sending the form again puts the typed values in their place on purpose.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date, time
from hashlib import sha256
from typing import Any, Final

from django import forms
from django.db import connection
from django.db.models import Model, QuerySet
from django.forms.models import model_to_dict
from django.utils.translation import gettext as _

from shared.said import day_said

FIELD: Final = "stood"


def values_of(row: Model, names: list[str]) -> dict[str, Any]:
    """What a row holds in these fields, many-to-many ones as a list of keys in order."""
    found = model_to_dict(row, fields=names)
    return {name: plain(value) for name, value in found.items()}


def mark_of(values: Mapping[str, Any]) -> str:
    """A short text that is another for other values."""
    text = json.dumps(values, sort_keys=True, default=str)
    return sha256(text.encode()).hexdigest()[:24]


def stored(row: Model) -> Model | None:
    """The row as the database has it now, held until the transaction ends where there is one."""
    rows = type(row)._base_manager  # noqa: SLF001 - as the framework documents it
    if connection.in_atomic_block:
        return rows.select_for_update().filter(pk=row.pk).first()
    return rows.filter(pk=row.pk).first()


def shown(field: forms.Field, value: Any) -> str:
    """A stored value in the words of its field."""
    if value in (None, "", []):
        return "–"
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(field, forms.ModelChoiceField):
        keys = value if isinstance(value, list) else [value]
        rows = field.queryset.filter(pk__in=keys) if field.queryset is not None else ()
        return ", ".join(field.label_from_instance(row) for row in rows) or "–"
    if isinstance(field, forms.ChoiceField):
        held = {str(each) for each in (value if isinstance(value, list) else [value])}
        return ", ".join(str(label) for key, label in _flat(field) if str(key) in held) or "–"
    if isinstance(value, date):
        return day_said(value, "j M Y")
    return f"{value:%H:%M}" if isinstance(value, time) else str(value)


def _flat(field: forms.ChoiceField) -> list[tuple[Any, Any]]:
    choices: Any = field.choices
    return [(key, label) for key, label in choices if not isinstance(label, list | tuple)]


def plain(value: Any) -> Any:
    """A value by its keys, as the row keeps it: of a row its key, of several theirs in order."""
    if isinstance(value, list | QuerySet):
        return sorted(plain(each) for each in value)
    return value.pk if isinstance(value, Model) else value
