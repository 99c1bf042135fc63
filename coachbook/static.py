"""Static files under names that change with their content, modules included."""

from __future__ import annotations

from whitenoise.storage import CompressedManifestStaticFilesStorage


class StaticFiles(CompressedManifestStaticFilesStorage):  # type: ignore[misc]
    """Packed once when collected: a phone at the bench fetches a third of the bytes.

    A module names the modules that it needs by their hashed names, so that an update reaches
    a page whole: never a new page with an old module from the browser's store. Only our own:
    among django_htmx's files are some that name what it does not ship.
    """

    patterns = (
        *CompressedManifestStaticFilesStorage.patterns,
        ("js/*.js", ((r'(?P<matched>from "(?P<url>\./\w+\.js)")', 'from "%(url)s"'),)),
    )
