"""A signer's own key: Ed25519, locked by a pass phrase that nobody else knows and that nothing keeps."""

from __future__ import annotations

import os
import re
import unicodedata
from functools import lru_cache

from cryptography.exceptions import InvalidSignature, InvalidTag
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.argon2 import Argon2id
from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.said import said

LEAST_LETTERS = 12
"""Of a pass phrase. Source: common practice, no source: short ones are guessed by whoever has a copy of the store."""

_ITERATIONS, _LANES, _MEMORY_KIB = 3, 4, 64 * 1024
"""Argon2id, the second recommended choice. Source: [RFC9106], section 4, from memory."""


class LockedKey(Struct, frozen=True):
    """A private key that a pass phrase opens; all in hexadecimal digits.

    Args:
        public: 64 digits.
        salt: of the key derivation.
        nonce: of AES-GCM.
        box: the private key, encrypted, the public one authenticated with it.
    """

    public: str
    salt: str
    nonce: str
    box: str

    def opened(self, pass_phrase: str) -> SigningKey:
        """The key itself.

        Raises:
            RecordError: the pass phrase is not the one that locked it, or what was locked was changed.
        """
        cipher = AESGCM(_derived(pass_phrase, bytes.fromhex(self.salt)))
        try:
            raw = cipher.decrypt(
                bytes.fromhex(self.nonce), bytes.fromhex(self.box), bytes.fromhex(self.public)
            )
        except InvalidTag:
            raise RecordError.saying("records.wrong_pass_phrase", where=said("records.pass_phrase")) from None
        return SigningKey(raw)


class SigningKey:
    """A private key, in memory for as long as somebody signs."""

    def __init__(self, raw: bytes) -> None:
        self._key = Ed25519PrivateKey.from_private_bytes(raw)
        self.public = self._key.public_key().public_bytes_raw().hex()

    def sign(self, hash: str) -> str:
        """Signature over a hash, both in hexadecimal digits."""
        return self._key.sign(bytes.fromhex(hash)).hex()


def new_key(pass_phrase: str) -> LockedKey:
    """A key of its own for a signer.

    Raises:
        RecordError: the pass phrase is too short.
    """
    if len(pass_phrase.strip()) < LEAST_LETTERS:
        raise RecordError.saying(
            "records.short_pass_phrase", where=said("records.pass_phrase"), least=LEAST_LETTERS
        )
    raw, salt, nonce = os.urandom(32), os.urandom(16), os.urandom(12)
    public = SigningKey(raw).public
    box = AESGCM(_derived(pass_phrase, salt)).encrypt(nonce, raw, bytes.fromhex(public))
    return LockedKey(public, salt.hex(), nonce.hex(), box.hex())


_DIGITS = re.compile("[0-9a-f]*")


def is_signed_by(public: str, hash: str, signature: str) -> bool:
    """Whether a signature over a hash was made with the private half of a public key; each in small digits, so that no
    other text can stand for the same signature."""
    if not all(_DIGITS.fullmatch(text) for text in (public, hash, signature)):
        return False
    try:
        _public(public).verify(bytes.fromhex(signature), bytes.fromhex(hash))
    except (InvalidSignature, ValueError):
        return False
    return True


@lru_cache(maxsize=256)
def _public(digits: str) -> Ed25519PublicKey:
    return Ed25519PublicKey.from_public_bytes(bytes.fromhex(digits))


def _derived(pass_phrase: str, salt: bytes) -> bytes:
    kdf = Argon2id(salt=salt, length=32, iterations=_ITERATIONS, lanes=_LANES, memory_cost=_MEMORY_KIB)
    alike = unicodedata.normalize("NFC", pass_phrase)  # keyboards differ in how they send an accent
    return kdf.derive(alike.encode("utf-8", "surrogatepass"))
