import uuid

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("site", "0003_journal")]

    operations = [
        migrations.CreateModel(
            name="GardenCalendar",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("identity", models.UUIDField(default=uuid.uuid4)),
                ("token", models.CharField(blank=True, max_length=64, null=True, unique=True)),
                ("language", models.CharField(default="en", max_length=5)),
                ("text", models.TextField(blank=True)),
                ("made_of", models.CharField(blank=True, max_length=64)),
                ("made_at", models.DateTimeField(blank=True, null=True)),
                (
                    "garden",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="calendar",
                        to="site.garden",
                    ),
                ),
            ],
        ),
    ]
