from django.db import migrations, models


def none_waits(apps, schema_editor):
    rows = apps.get_model("practice", "Improvement").objects
    rows.filter(state="waiting").update(state="failed")


class Migration(migrations.Migration):
    dependencies = [("practice", "0001_initial")]

    operations = [
        migrations.RunPython(none_waits, migrations.RunPython.noop),
        migrations.RenameField("improvement", "heard_at", "beat_at"),
        migrations.RenameField("improvement", "stop", "stop_asked"),
        migrations.AddField(
            "improvement", "starts", models.PositiveSmallIntegerField(default=0)
        ),
        migrations.AlterField(
            "improvement",
            "state",
            models.CharField(
                choices=[
                    ("running", "Running"),
                    ("done", "Done"),
                    ("cancelled", "Cancelled"),
                    (
                        "overtaken",
                        "The plan was changed meanwhile, so this result was put aside",
                    ),
                    ("failed", "Failed"),
                ],
                default="running",
                max_length=10,
            ),
        ),
    ]
