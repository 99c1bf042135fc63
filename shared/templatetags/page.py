"""Template helpers that every page may use (built in, no load line needed)."""

from __future__ import annotations

import uuid
from typing import Any

from django import template
from django.forms import BoundField
from django.template import defaultfilters
from django.template.loader import render_to_string
from django.utils.html import format_html
from django.utils.safestring import SafeString

from shared.said import small_month

register = template.Library()


@register.simple_tag
def field(bound: BoundField, hint: str = "") -> SafeString:
    """A form field with its label, its help and its errors, tied together for screen readers."""
    return render_to_string("parts/field.html", {"field": bound, "hint": hint})


@register.filter
def shown_with(bound: BoundField) -> SafeString:
    """The hidden field that says with what value a field was shown: see shared.forms.CellsForm."""
    return bound.as_hidden(only_initial=True)


@register.simple_tag
def once() -> SafeString:
    """The token by which a form that makes something makes it once: see shared.once."""
    return format_html('<input type="hidden" name="once" value="{}">', uuid.uuid4())


@register.filter(expects_localtime=True, is_safe=False)
def date(value: Any, form: str | None = None) -> str:
    """Django's filter; but in Spanish a short month is small: see shared.said."""
    said: str = small_month(defaultfilters.date(value, form), form)
    return said


@register.filter
def get(mapping: Any, key: Any) -> Any:
    """The value of a mapping under a key that a template holds in a variable."""
    return mapping.get(key)


@register.inclusion_tag("parts/severity.html")
def severity(level: str, text: str) -> dict[str, str]:
    """A word with its mark: colour never stands alone."""
    return {"level": level, "text": text}


@register.filter
def rating(player: Any, quality: str) -> Any:
    """A player's rating in one quality."""
    return getattr(player, quality)
