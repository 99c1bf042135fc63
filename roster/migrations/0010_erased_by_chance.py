"""Who was erased under the key of their row gets a number by chance instead."""

import secrets

from django.db import migrations
from django.db.models import F, Value
from django.db.models.functions import Cast, Concat
from django.db.models import CharField


def draw_numbers(apps, _schema_editor):
    Player, Change = apps.get_model("roster", "Player"), apps.get_model("shared", "Change")
    key = Concat(Value("#"), Cast("pk", CharField()), output_field=CharField())
    taken = set()
    for player in Player.objects.annotate(key=key).filter(name=F("key")):
        while (number := 1000 + secrets.randbelow(90_000)) in taken:
            pass
        taken.add(number)
        before, player.name, player.anonymous_number = player.name, f"#{number}", number
        player.save(update_fields=["name", "anonymous_number"])
        Change.objects.filter(team=player.team_id, subject=before).update(subject=player.name)


class Migration(migrations.Migration):
    dependencies = [
        ("roster", "0009_guesses_and_anonymous_numbers"),
        ("shared", "0003_longer_answer"),
    ]

    operations = [migrations.RunPython(draw_numbers, migrations.RunPython.noop)]
