"""Personal links by the hash of their token, each for one phone, until the season ends."""

from hashlib import sha256

from django.core.signing import Signer
from django.db import migrations, models


def hash_tokens(apps, schema_editor):
    signer = Signer(salt="link.player", sep=".")
    for link in apps.get_model("roster", "PlayerLink").objects.all():
        link.digest = sha256(signer.sign(link.nonce).encode()).hexdigest()
        link.save(update_fields=["digest"])


class Migration(migrations.Migration):

    dependencies = [
        ('roster', '0003_got_it'),
    ]

    operations = [
        migrations.AddField('team', 'season_ends', models.DateField(blank=True, null=True, verbose_name='last day of the season')),
        migrations.AddField('playerlink', 'is_guardians', models.BooleanField(default=False)),
        migrations.AddField('playerlink', 'phone', models.CharField(blank=True, max_length=64)),
        migrations.AddField('playerlink', 'opened_at', models.DateTimeField(null=True)),
        migrations.AddField('playerlink', 'digest', models.CharField(max_length=64, null=True)),
        migrations.RunPython(hash_tokens, migrations.RunPython.noop, elidable=True),
        migrations.AlterField('playerlink', 'digest', models.CharField(max_length=64, unique=True)),
    ]
