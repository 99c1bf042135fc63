"""A passkey device in software, after W3C Web Authentication, Level 2, sections 6 and 5.8.

It shares no code with the library that checks its answers: the bytes are laid out here as the
standard's figures show them. What it says can be spoilt on purpose, field by field.
"""

from __future__ import annotations

import base64
import json
import secrets
import struct
from dataclasses import dataclass, field, replace
from hashlib import sha256
from typing import Any, Final

import cbor2
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256

# Section 6.1, flags of the authenticator data.
PRESENT, VERIFIED, HAS_KEY = 0x01, 0x04, 0x40
ES256: Final = -7  # RFC 9053, table 1
ORIGIN: Final = "http://localhost"


def base64url(raw: bytes) -> str:
    return base64.urlsafe_b64encode(raw).decode().rstrip("=")


def raw_of(text: str) -> bytes:
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


@dataclass(frozen=True)
class Device:
    """A key pair for one account of one site; ``count`` 0 is a device that does not count."""

    key: ec.EllipticCurvePrivateKey = field(
        default_factory=lambda: ec.generate_private_key(ec.SECP256R1())
    )
    credential: bytes = field(default_factory=lambda: secrets.token_bytes(32))
    handle: bytes = b""
    count: int = 0
    origin: str = ORIGIN
    rp_id: str = ""  # the one that is asked for, where nothing is said
    flags: int = PRESENT | VERIFIED

    def but(self, **other: Any) -> Device:
        return replace(self, **other)

    def makes(self, question: dict[str, Any], **spoilt: Any) -> tuple[Device, str]:
        """The device that knows the account, and its answer to ``create()``."""
        device = self.but(handle=raw_of(question["user"]["id"]))
        client = device._client("webauthn.create", question, spoilt)
        id_ = device.credential
        key = bytes(16) + struct.pack(">H", len(id_)) + id_ + device._public_key()
        data = device._data(question["rp"]["id"], HAS_KEY) + key
        made = cbor2.dumps({"fmt": "none", "attStmt": {}, "authData": data})
        answer = {"clientDataJSON": base64url(client), "attestationObject": base64url(made)}
        return device, device._said(answer)

    def answers(self, question: dict[str, Any], **spoilt: Any) -> str:
        """Its answer to ``get()``: section 6.3.3, the signature over data and client hash."""
        client = self._client("webauthn.get", question, spoilt)
        data = self._data(question["rpId"], 0)
        signed = self.key.sign(data + sha256(client).digest(), ec.ECDSA(SHA256()))
        answer = {
            "clientDataJSON": base64url(client),
            "authenticatorData": base64url(data),
            "signature": base64url(spoilt.get("signature", signed)),
            "userHandle": base64url(self.handle) if self.handle else None,
        }
        return self._said(answer)

    def _said(self, answer: dict[str, Any]) -> str:
        id_ = base64url(self.credential)
        return json.dumps({"id": id_, "rawId": id_, "type": "public-key", "response": answer})

    def _client(self, kind: str, question: dict[str, Any], spoilt: dict[str, Any]) -> bytes:
        said = {"type": kind, "challenge": question["challenge"], "origin": self.origin}
        return json.dumps(said | spoilt.get("says", {})).encode()

    def _data(self, rp_id: str, more: int) -> bytes:
        """Section 6.1: hash of the site's name, flags, count."""
        site = sha256((self.rp_id or rp_id).encode()).digest()
        return site + bytes([self.flags | more]) + struct.pack(">I", self.count)

    def _public_key(self) -> bytes:
        """RFC 9053, section 7.1.1: kty 2, alg, crv 1 (P-256), x, y."""
        point = self.key.public_key().public_numbers()
        x, y = point.x.to_bytes(32, "big"), point.y.to_bytes(32, "big")
        return cbor2.dumps({1: 2, 3: ES256, -1: 1, -2: x, -3: y})
