"""Secrets handed out once: links and keys. Only their hash is kept."""

from __future__ import annotations

import hashlib
import secrets

BYTES = 32  # 256 bits: cannot be guessed, so a plain hash of it is enough


def fresh_token(mark: str = "") -> tuple[str, str]:
    """A new secret with a mark in front that tells what it is for, and its hash."""
    token = mark + secrets.token_urlsafe(BYTES)
    return token, token_hash(token)


def token_hash(token: str) -> str:
    """What is kept of a secret."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()
