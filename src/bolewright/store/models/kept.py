"""Rows that are written once."""

from __future__ import annotations

from typing import Any

from django.db import models


class WrittenOnce(Exception):
    """Something tried to alter or remove a row that is kept as it was written."""


class Kept(models.Model):
    """A row that is added and never altered or deleted."""

    class Meta:
        abstract = True

    def may_change(self) -> tuple[str, ...]:
        """Fields that may be written again."""
        return ()

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Add it; a second saving is refused unless it touches only what may change."""
        fields = kwargs.get("update_fields")
        if not self._state.adding and (not fields or not set(fields) <= set(self.may_change())):
            raise WrittenOnce(f"{type(self).__name__} is kept as it was written.")
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Refused."""
        raise WrittenOnce(f"{type(self).__name__} is kept as it was written.")
