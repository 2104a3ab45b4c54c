"""The chain, what it speaks of, and the triggers that let neither be changed."""

from __future__ import annotations

from django.db import migrations, models

from hatchwright.records import guards


class Migration(migrations.Migration):
    """The first schema: the chain, which is added to and never changed; the bytes that entries speak of, under their
    SHA-256; and an index that can be made again, the newest entry about each thing and its newest signed one."""

    initial = True
    dependencies = ()
    operations = (
        migrations.CreateModel(
            name="Entry",
            fields=[
                ("seq", models.IntegerField(primary_key=True, serialize=False)),
                ("prev", models.CharField(max_length=64, unique=True)),
                ("kind", models.CharField(max_length=40)),
                ("about", models.CharField(max_length=255)),
                ("body", models.TextField()),
                ("author", models.CharField(max_length=120)),
                ("at", models.CharField(max_length=20)),
                ("key", models.CharField(max_length=64)),
                ("hash", models.CharField(max_length=64)),
                ("signature", models.CharField(max_length=128)),
            ],
            options={
                "indexes": [
                    models.Index(fields=("about", "seq"), name="entry_about"),
                    models.Index(fields=("kind", "seq"), name="entry_kind"),
                ]
            },
        ),
        migrations.CreateModel(
            name="Kept",
            fields=[
                ("sha256", models.CharField(max_length=64, primary_key=True, serialize=False)),
                ("content", models.BinaryField()),
            ],
        ),
        migrations.CreateModel(
            name="Newest",
            fields=[
                ("about", models.CharField(max_length=255, primary_key=True, serialize=False)),
                ("seq", models.IntegerField()),
                ("signed_seq", models.IntegerField()),
            ],
        ),
        migrations.RunPython(guards.set_up),
    )
