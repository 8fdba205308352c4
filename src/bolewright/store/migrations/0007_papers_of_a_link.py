from typing import Any

from django.db import migrations, models

SHOWN_BEFORE = ["briefing", "elevation", "plan", "load"]  # by every link that showed papers at all


def name_papers(apps: Any, _editor: Any) -> None:
    """A link that stands goes on showing what it showed."""
    apps.get_model("store", "Share").objects.filter(papers=True).update(paper_names=SHOWN_BEFORE)


def name_none(apps: Any, _editor: Any) -> None:
    """Back to yes or no."""
    apps.get_model("store", "Share").objects.exclude(paper_names=[]).update(papers=True)


class Migration(migrations.Migration):
    dependencies = [
        ("store", "0006_mark_tap"),
    ]

    operations = [
        migrations.AddField(
            model_name="share",
            name="paper_names",
            field=models.JSONField(default=list),
        ),
        migrations.RunPython(name_papers, name_none),
        migrations.RemoveField(
            model_name="share",
            name="papers",
        ),
    ]
