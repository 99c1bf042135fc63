"""Sums of the reps by practice, play, player, role, mode and result, filled from the reps."""

from datetime import datetime
from typing import Any

import django.db.models.deletion
from django.db import migrations, models
from django.utils import timezone

MODELS = ("Practice", "Rep", "Undo", "RepRole", "RepSum")
KEPT = ("entry_id", "mode", "is_clean", "erred", "at", "practice__date", "practice__start")


def fill(apps: Any, _schema: Any) -> None:
    """As ``practice.reps.sums`` counted when this was written, practice by practice."""
    practice, rep, undo, role, rep_sum = (apps.get_model("practice", name) for name in MODELS)
    undone = set(undo.objects.values_list("rep_id", "team_id"))
    for where, team in practice.objects.order_by("pk").values_list("pk", "team_id"):
        fives: dict[Any, list[tuple[str, int]]] = {}
        roles = role.objects.filter(rep__practice=where)
        for key, place, player in roles.values_list("rep_id", "role", "player_id"):
            fives.setdefault(key, []).append((place, player))
        sums: dict[tuple[Any, ...], list[datetime]] = {}
        reps = rep.objects.filter(practice=where).order_by("at", "pk")
        for key, entry, mode, clean, erred, at, day, start in reps.values_list("pk", *KEPT):
            if (key, team) in undone:
                continue
            on_the_day = timezone.localdate(at) == day
            moment = at if on_the_day else timezone.make_aware(datetime.combine(day, start))
            for place, player in fives.get(key, ()):
                right = clean or (bool(erred) and erred != place)
                sums.setdefault((entry, player, place, mode, right), []).append(moment)
        rep_sum.objects.bulk_create(
            rep_sum(
                practice_id=where,
                entry_id=entry,
                player_id=player,
                role=place,
                mode=mode,
                is_clean=right,
                count=len(moments),
                first_at=min(moments),
            )
            for (entry, player, place, mode, right), moments in sums.items()
        )


class Migration(migrations.Migration):

    dependencies = [
        ('practice', '0002_worker'),
        ('roster', '0001_initial'),
    ]

    operations = [
        migrations.CreateModel(
            name='RepSum',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('role', models.CharField(choices=[('1', '1'), ('2', '2'), ('3', '3'), ('4', '4'), ('5', '5')], max_length=1)),
                ('mode', models.CharField(choices=[('walk_through', 'Walk-through'), ('half_speed', 'Half speed'), ('live', 'Live'), ('game', 'Game')], max_length=12)),
                ('is_clean', models.BooleanField()),
                ('count', models.PositiveIntegerField()),
                ('first_at', models.DateTimeField()),
                ('entry', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='rep_sums', to='roster.packageplay')),
                ('player', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='rep_sums', to='roster.player')),
                ('practice', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='rep_sums', to='practice.practice')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('practice', 'entry', 'player', 'role', 'mode', 'is_clean'), name='one_sum_of_a_kind')],
            },
        ),
        migrations.RunPython(fill, migrations.RunPython.noop),
    ]
