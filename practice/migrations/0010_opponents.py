"""Opponents as rows, those of the games so far among them."""

from typing import Any

import django.core.validators
import django.db.models.deletion
from django.db import migrations, models


def take_up(apps: Any, _schema: Any) -> None:
    """A row for each name that a team's games give, however it was written; the latest counts."""
    game, opponent = (apps.get_model("practice", name) for name in ("Game", "Opponent"))
    known: dict[tuple[int, str], int] = {}
    for row in game.objects.order_by("-date", "-start", "pk"):
        name = " ".join(row.opponent.split())
        if not name:
            continue
        key = row.team_id, name.casefold()
        if key not in known:
            known[key] = opponent.objects.create(team_id=row.team_id, name=name).pk
        game.objects.filter(pk=row.pk).update(met_id=known[key])


class Migration(migrations.Migration):

    dependencies = [
        ('practice', '0009_clearing'),
        ('roster', '0010_erased_by_chance'),
    ]

    operations = [
        migrations.CreateModel(
            name='Opponent',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=60, verbose_name='name')),
                ('notes', models.TextField(blank=True, max_length=2000, verbose_name='notes')),
                ('team', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='opponents', to='roster.team')),
            ],
            options={
                'ordering': ('name', 'pk'),
            },
        ),
        migrations.CreateModel(
            name='Observation',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('day', models.DateField(verbose_name='day')),
                ('situation', models.CharField(choices=[('sideline', 'Sideline inbound'), ('baseline', 'Baseline inbound'), ('press_break', 'Press break'), ('half_court', 'Half court'), ('after_timeout', 'After a time-out'), ('last_shot', 'Last shot')], default='sideline', max_length=16, verbose_name='situation')),
                ('chase', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='man to man, chase')),
                ('switch', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='switch')),
                ('front', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='front the post')),
                ('trap', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='trap the ball')),
                ('zone', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='2-3 zone')),
                ('sag', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='sag')),
                ('jump', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='jump to the ball')),
                ('tight', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='man to man, tight')),
                ('deny', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='deny')),
                ('behind', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='behind the post')),
                ('over', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='over every screen')),
                ('under', models.PositiveSmallIntegerField(default=0, validators=[django.core.validators.MaxValueValidator(200)], verbose_name='under every screen')),
                ('opponent', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='observations', to='practice.opponent')),
            ],
            options={
                'ordering': ('-day', 'situation', 'pk'),
            },
        ),
        migrations.AddField(
            model_name='game',
            name='met',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='games', to='practice.opponent'),
        ),
        migrations.AddConstraint(
            model_name='opponent',
            constraint=models.UniqueConstraint(fields=('team', 'name'), name='one_opponent_per_name', violation_error_message='There is an opponent of that name already.'),
        ),
        migrations.AddConstraint(
            model_name='observation',
            constraint=models.UniqueConstraint(fields=('opponent', 'day', 'situation'), name='one_observation_a_day', violation_error_message='For this day and situation there are counts already: change those.'),
        ),
        migrations.RunPython(take_up, migrations.RunPython.noop),
    ]
