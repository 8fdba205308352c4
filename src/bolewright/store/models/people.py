"""Who may sign in, how they were invited, the keys of their programs, and failed tries."""

from __future__ import annotations

from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils import timezone

from bolewright.store.models.kept import Kept
from bolewright.store.rights import ROLES, Right, may

ROLE_CHOICES = [(role, role) for role in ROLES]


class People(BaseUserManager["Person"]):
    """Finds a person by the name they sign in with, however it is capitalised."""

    def get_by_natural_key(self, username: str | None) -> Person:
        """The person of a sign-in name."""
        return self.get(login=(username or "").strip().lower())


class Person(AbstractBaseUser):
    """Somebody with an account. `name` stands beside everything they enter and is never changed."""

    login = models.CharField(max_length=60, unique=True)
    name = models.CharField(max_length=80, unique=True)
    role = models.CharField(max_length=8, choices=ROLE_CHOICES)
    is_active = models.BooleanField(default=True)
    made_at = models.DateTimeField(auto_now_add=True)

    USERNAME_FIELD = "login"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name", "role"]
    objects = People()

    class Meta:
        ordering = ("name",)

    def may(self, right: Right) -> bool:
        """Whether this person may do that."""
        return self.is_active and may(self.role, right)


class Ending(models.Model):
    """Something given out that ends by itself or is revoked."""

    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.CharField(max_length=80, blank=True)
    digest = models.CharField(max_length=64, unique=True)  # of the link or key; the thing itself is not kept
    revoked_at = models.DateTimeField(null=True, blank=True)
    revoked_by = models.CharField(max_length=80, blank=True)

    class Meta:
        abstract = True

    def revoke(self, by: str) -> None:
        """End it now; ending it twice changes nothing."""
        open_ones = type(self)._default_manager.filter(pk=self.pk, revoked_at=None)
        open_ones.update(revoked_at=timezone.now(), revoked_by=by[:80])


class Invitation(Ending):
    """A link by which one person makes an account with a role fixed here, or, with `person`, sets a new password."""

    role = models.CharField(max_length=8, choices=ROLE_CHOICES)
    note = models.CharField(max_length=80, blank=True)  # for whom
    expires_at = models.DateTimeField()
    person = models.ForeignKey(Person, on_delete=models.CASCADE, null=True, blank=True, related_name="renewals")
    used_at = models.DateTimeField(null=True, blank=True)
    used_by = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ("-made_at", "-pk")

    @property
    def state(self) -> str:
        """open | used | revoked | expired"""
        if self.used_at:
            return "used"
        if self.revoked_at:
            return "revoked"
        return "open" if self.expires_at > timezone.now() else "expired"


class Key(Ending):
    """A key for a program that acts for a person, with that person's role. Without a person: of this machine alone."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, null=True, blank=True, related_name="keys")
    label = models.CharField(max_length=80)
    start = models.CharField(max_length=12)  # its first characters, to tell it from others
    used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at", "-pk")


class SignInTry(models.Model):
    """One try to sign in that has not led to anything."""

    at = models.DateTimeField(auto_now_add=True, db_index=True)
    login = models.CharField(max_length=60, db_index=True)
    address = models.CharField(max_length=45, db_index=True)


class PeopleEntry(Kept):
    """One line about accounts: who was invited, what was changed, by whom."""

    at = models.DateTimeField(auto_now_add=True)
    by = models.CharField(max_length=80, blank=True)
    said = models.CharField(max_length=300)

    class Meta:
        ordering = ("-at", "-pk")


def write_down(by: str, said: str, **more: Any) -> None:
    """Add a line about accounts."""
    PeopleEntry.objects.create(by=by[:80], said=said[:300], **more)
