"""A row of the database made from another."""

from __future__ import annotations

from typing import Any, TypeVar

from django.db.models import Model

Row = TypeVar("Row", bound=Model)


def again(row: Row, **changed: Any) -> Row:
    """A row that is not saved yet, with the values of another and some of its own."""
    kept = {
        field.attname: getattr(row, field.attname)
        for field in row._meta.concrete_fields
        if not field.primary_key
    }
    made = type(row)(**kept)
    for name, value in changed.items():
        setattr(made, name, value)
    return made
