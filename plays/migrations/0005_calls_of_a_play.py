"""The calls of a play beside its name, for the library's cards."""

from typing import Any

from django.db import migrations, models


def take_over(apps: Any, schema_editor: Any) -> None:
    Play, Revision = (apps.get_model("plays", name) for name in ("Play", "Revision"))
    for play in Play.objects.all():
        shown = Revision.objects.filter(play=play).order_by("-number")
        row = play.current or shown.first()
        variants = row.document.get("variants", ()) if row else ()
        if variants:
            play.calls = [row.document.get("call", ""), *(each["call"] for each in variants)]
            play.save(update_fields=["calls"])


class Migration(migrations.Migration):
    dependencies = [("plays", "0004_traced_photo")]

    operations = [
        migrations.AddField(
            model_name="play",
            name="calls",
            field=models.JSONField(blank=True, default=list, editable=False),
        ),
        migrations.RunPython(take_over, migrations.RunPython.noop),
    ]
