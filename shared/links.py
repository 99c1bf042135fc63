"""Addresses that open something by themselves: unguessable, signed, with an end.

The database holds the nonce; the address holds nonce and signature. So neither a copy of the
database nor a guess opens anything, and withdrawing the row withdraws the link.
"""

from __future__ import annotations

import secrets

from django.core.signing import BadSignature, Signer


def new_nonce() -> str:
    """A fresh nonce of 128 bits."""
    return secrets.token_urlsafe(16)


def token_of(nonce: str, purpose: str) -> str:
    """What stands in the address for this nonce."""
    return Signer(salt=f"link.{purpose}", sep=".").sign(nonce)


def nonce_of(token: str, purpose: str) -> str | None:
    """The nonce of a genuine token, else None."""
    try:
        return Signer(salt=f"link.{purpose}", sep=".").unsign(token)
    except BadSignature:
        return None
