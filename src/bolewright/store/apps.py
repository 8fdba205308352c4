"""The store as an application of the web framework."""

from __future__ import annotations

from django.apps import AppConfig


class StoreConfig(AppConfig):
    """Its tables are named after the room."""

    name = "bolewright.store"
    label = "store"
    default_auto_field = "django.db.models.BigAutoField"
