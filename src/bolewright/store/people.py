"""Accounts: the first owner, invitations, passwords, roles. What is refused raises Refused with plain sentences."""

from __future__ import annotations

import re
from datetime import timedelta

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils import timezone

from bolewright.store.models.people import Invitation, Person, write_down
from bolewright.store.rights import ROLES
from bolewright.store.tokens import fresh_token, token_hash

DAYS = (1, 7, 30)  # how long an invitation may stand
RENEWAL_HOURS = 24
_LOGIN = re.compile(r"[a-z0-9][a-z0-9._@+-]{1,59}")
GONE = "This link is used, revoked, expired, or was never given out: ask the owner for a new one."


class Refused(ValueError):
    """Why not, in sentences a person can act on."""

    def __init__(self, *sentences: str) -> None:
        super().__init__(" ".join(sentences))
        self.sentences = sentences


def any_people() -> bool:
    """Whether there is any account."""
    return Person.objects.exists()


def first_owner(login: str, name: str, password: str, again: str) -> Person:
    """The first account. Raises Refused once there is one."""
    with transaction.atomic():
        if any_people():
            raise Refused("There is an owner account already: sign in with it.")
        return _made(login, name, "owner", password, again, "made the first account on this installation")


def invite(role: str, note: str, days: int, by: str) -> tuple[Invitation, str]:
    """An invitation and the secret of its link, which is not kept."""
    if role not in ROLES:
        raise Refused(f"Choose a role: {', '.join(ROLES)}.")
    until = timezone.now() + timedelta(days=days if days in DAYS else 7)
    token, digest = fresh_token()
    made = Invitation.objects.create(
        role=role, note=note.strip()[:80], expires_at=until, made_by=by[:80], digest=digest
    )
    write_down(by, f"invited {made.note or 'somebody'} as {role}")
    return made, token


def renew(person: Person, by: str) -> tuple[Invitation, str]:
    """A link by which a person sets a new password; earlier ones of theirs end."""
    for earlier in person.renewals.filter(used_at=None, revoked_at=None):
        earlier.revoke(by)
    token, digest = fresh_token()
    until = timezone.now() + timedelta(hours=RENEWAL_HOURS)
    made = Invitation.objects.create(
        role=person.role, note=person.name, expires_at=until, made_by=by[:80], digest=digest, person=person
    )
    write_down(by, f"gave {person.name} a link to set a new password")
    return made, token


def invitation_of(token: str) -> Invitation | None:
    """The invitation a link stands for, while it can still be used."""
    found = Invitation.objects.filter(digest=token_hash(token)).select_related("person").first()
    if found is None or found.state != "open" or (found.person is not None and not found.person.is_active):
        return None
    return found


def accept(token: str, login: str, name: str, password: str, again: str) -> Person:
    """Use an invitation up: the account it was for, or the new password."""
    with transaction.atomic():
        found = invitation_of(token)
        if found is None:
            raise Refused(GONE)
        if found.person is not None:
            person = found.person
            set_password(person, password, again)
        else:
            person = _made(login, name, found.role, password, again, f"took the invitation as {found.role}")
        free = Invitation.objects.filter(pk=found.pk, used_at=None, revoked_at=None)
        if not free.update(used_at=timezone.now(), used_by=person.name):  # another was quicker
            raise Refused(GONE)
    return person


def set_password(person: Person, password: str, again: str) -> None:
    """Give a person a new password; sessions begun with the old one end."""
    _check_password(password, again, person)
    person.set_password(password)
    person.save(update_fields=["password"])
    write_down(person.name, "set a new password")


def change_role(person: Person, role: str, by: str) -> None:
    """Give a person another role. Raises Refused for the last owner."""
    if role not in ROLES:
        raise Refused(f"Choose a role: {', '.join(ROLES)}.")
    with transaction.atomic():
        locked = _locked(person)
        if role != "owner":
            _not_the_last_owner(locked)
        locked.role = role
        locked.save(update_fields=["role"])
        write_down(by, f"made {locked.name} {role}")


def set_active(person: Person, active: bool, by: str) -> None:
    """Disable a person, which signs them out and stops their keys at once, or let them in again."""
    with transaction.atomic():
        locked = _locked(person)
        if not active:
            _not_the_last_owner(locked)
        locked.is_active = active
        locked.save(update_fields=["is_active"])
        write_down(by, f"{'let in again' if active else 'disabled'} {locked.name}")


def _locked(person: Person) -> Person:
    """The person, with every owner held until the change is made, so that two owners cannot remove each other."""
    list(Person.objects.select_for_update().filter(role="owner"))
    return Person.objects.select_for_update().get(pk=person.pk)


def _not_the_last_owner(person: Person) -> None:
    others = Person.objects.filter(role="owner", is_active=True).exclude(pk=person.pk)
    if person.role == "owner" and person.is_active and not others.exists():
        raise Refused("This is the last owner: make somebody else owner first.")


def _made(login: str, name: str, role: str, password: str, again: str, said: str) -> Person:
    login, name = login.strip().lower(), " ".join(name.split())
    if not _LOGIN.fullmatch(login):
        raise Refused("Choose a sign-in name of 2 to 60 letters, figures or . _ @ + -, without spaces.")
    if not 2 <= len(name) <= 80:
        raise Refused("Write your name in 2 to 80 letters: it stands beside everything you enter.")
    if Person.objects.filter(login=login).exists():
        raise Refused("This sign-in name is taken: choose another.")
    if Person.objects.filter(name__iexact=name).exists():
        raise Refused("Somebody of this name has an account already: add an initial, so that records stay clear.")
    person = Person(login=login, name=name, role=role)
    _check_password(password, again, person)
    person.set_password(password)
    try:
        with transaction.atomic():
            person.save()
    except IntegrityError:
        raise Refused("This name was taken in the same moment: choose another.") from None
    write_down(person.name, said)
    return person


def _check_password(password: str, again: str, person: Person) -> None:
    if password != again:
        raise Refused("The two passwords are not the same: type them again.")
    try:
        validate_password(password, person)
    except ValidationError as fault:
        raise Refused(*fault.messages) from None
