from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("store", "0008_record_of_hours"),
    ]

    operations = [
        migrations.AddField(
            model_name="mark",
            name="drawn_at",
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="mark",
            name="key",
            field=models.CharField(blank=True, max_length=64),
        ),
    ]
