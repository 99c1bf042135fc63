from django.db import migrations, models

from plays.search import search_text


def read_texts_anew(apps, schema_editor):
    """Take over what the library shows of each play from its current revision, or its draft."""
    Play = apps.get_model("plays", "Play")
    Revision = apps.get_model("plays", "Revision")
    for play in Play.objects.all():
        revision = play.current or Revision.objects.filter(play=play).order_by("-number").first()
        if revision is not None:
            play.use = revision.document.get("use", "")
            play.search = search_text(revision.document)
            play.save(update_fields=["use", "search"])


class Migration(migrations.Migration):

    dependencies = [
        ('plays', '0002_initial'),
    ]

    operations = [
        migrations.AddField(
            model_name='play',
            name='use',
            field=models.TextField(blank=True),
        ),
        migrations.RunPython(read_texts_anew, migrations.RunPython.noop),
    ]
