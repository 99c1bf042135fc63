"""Who did what, when and where stands in the record for good, for whoever writes the rows.

What the lines say of a person can be reworded, and the lines of a deleted team go.
"""

from __future__ import annotations

from typing import Any

from django.db import migrations, models

SQLITE = """
CREATE TRIGGER record_only_grows BEFORE UPDATE ON shared_change
WHEN NEW.id IS NOT OLD.id OR NEW.at IS NOT OLD.at OR NEW.user_id IS NOT OLD.user_id
  OR NEW.verb IS NOT OLD.verb OR NEW.team IS NOT OLD.team
BEGIN SELECT RAISE(ABORT, 'the record of changes only grows'); END
"""
FUNCTION = """
CREATE FUNCTION record_only_grows() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION 'the record of changes only grows' USING ERRCODE = 'check_violation'; END $$
"""
POSTGRESQL = """
CREATE TRIGGER record_only_grows BEFORE UPDATE ON shared_change FOR EACH ROW
WHEN ((NEW.id, NEW.at, NEW.user_id, NEW.verb, NEW.team)
  IS DISTINCT FROM (OLD.id, OLD.at, OLD.user_id, OLD.verb, OLD.team))
EXECUTE FUNCTION record_only_grows()
"""


def guard(_apps: Any, schema_editor: Any) -> None:
    is_sqlite = schema_editor.connection.vendor == "sqlite"
    for statement in (SQLITE,) if is_sqlite else (FUNCTION, POSTGRESQL):
        schema_editor.execute(statement)


def unguard(_apps: Any, schema_editor: Any) -> None:
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute("DROP TRIGGER record_only_grows")
    else:
        schema_editor.execute("DROP FUNCTION record_only_grows() CASCADE")


class Migration(migrations.Migration):
    dependencies = (("shared", "0004_open_session"),)

    operations = (
        migrations.AlterField(
            model_name="change",
            name="user",
            field=models.ForeignKey(
                null=True, on_delete=models.PROTECT, to="shared.user"
            ),
        ),
        migrations.AlterField(
            model_name="change", name="team", field=models.PositiveBigIntegerField(null=True)
        ),
        migrations.AddIndex(
            model_name="change",
            index=models.Index(fields=["team", "-id"], name="changes_of_a_team"),
        ),
        migrations.RunPython(guard, unguard),
    )
