"""Keys for programs: shown once, kept as a hash, revocable, with the rights of their person."""

from __future__ import annotations

from datetime import timedelta

from django.utils import timezone

from bolewright.store.models.people import Key, Person, write_down
from bolewright.store.tokens import fresh_token, token_hash

MARK = "bw_"
SHOWN = 8


def make_key(person: Person | None, label: str, by: str) -> tuple[Key, str]:
    """A key and its secret, which is not kept."""
    token, digest = fresh_token(MARK)
    fields = {"label": label.strip()[:80] or "key", "start": token[:SHOWN], "digest": digest, "made_by": by[:80]}
    key = Key.objects.create(person=person, **fields)
    write_down(by, f"made the key {key.start} ({key.label})")
    return key, token


def key_of(token: str) -> Key | None:
    """The key a secret belongs to, unless it is revoked or its person disabled; its use is noted once a minute."""
    found = Key.objects.filter(digest=token_hash(token), revoked_at=None).select_related("person").first()
    if found is None or (found.person is not None and not found.person.is_active):
        return None
    now = timezone.now()
    if found.used_at is None or now - found.used_at > timedelta(minutes=1):
        Key.objects.filter(pk=found.pk).update(used_at=now)
    return found
