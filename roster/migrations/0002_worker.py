import django.utils.timezone
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("roster", "0001_initial")]

    operations = [
        migrations.AddField(
            "castproposal", "starts", models.PositiveSmallIntegerField(default=0)
        ),
        migrations.AddField(
            "castproposal", "fault", models.CharField(blank=True, max_length=200)
        ),
        migrations.AlterField(
            "castproposal", "beat_at", models.DateTimeField(default=django.utils.timezone.now)
        ),
    ]
