"""The pages as an application of the web framework."""

from __future__ import annotations

from django.apps import AppConfig


class WebConfig(AppConfig):
    """Templates and static files of the field sheet."""

    name = "bolewright.web"
    label = "web"
