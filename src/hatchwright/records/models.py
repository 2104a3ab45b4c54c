"""The tables of the store. `Entry` and `Kept` are added to and never changed; `Newest` can be made again from them."""

from __future__ import annotations

from django.db import models


class Entry(models.Model):
    """One entry of the chain; see `entry.Entered`."""

    seq = models.PositiveBigIntegerField(primary_key=True)
    prev = models.CharField(max_length=64, unique=True)
    kind = models.CharField(max_length=40)
    about = models.CharField(max_length=255)
    body = models.TextField()
    author = models.CharField(max_length=120)
    at = models.CharField(max_length=20)
    key = models.CharField(max_length=64)
    hash = models.CharField(max_length=64)
    signature = models.CharField(max_length=128)

    class Meta:
        app_label = "records"
        indexes = (
            models.Index(fields=("about", "seq"), name="entry_about"),
            models.Index(fields=("kind", "seq"), name="entry_kind"),
        )


class Kept(models.Model):
    """Bytes that entries speak of, under their SHA-256 in hexadecimal digits."""

    sha256 = models.CharField(max_length=64, primary_key=True)
    content = models.BinaryField()

    class Meta:
        app_label = "records"


class Newest(models.Model):
    """The newest entry about one thing, and its newest signed one, 0 for none: ten thousand are listed at once."""

    about = models.CharField(max_length=255, primary_key=True)
    seq = models.PositiveBigIntegerField()
    signed_seq = models.PositiveBigIntegerField()

    class Meta:
        app_label = "records"
