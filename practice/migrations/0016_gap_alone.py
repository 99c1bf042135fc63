from django.db import migrations


class Migration(migrations.Migration):

    dependencies = [
        ('practice', '0015_film_links'),
    ]

    operations = [
        migrations.RemoveField(
            model_name='installplan',
            name='approximation',
        ),
    ]
