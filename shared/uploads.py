"""A file that somebody hands over in a form."""

from __future__ import annotations

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest
from django.utils.translation import gettext as _


def uploaded(
    request: HttpRequest, too_large: str, most: int = settings.MAX_UPLOAD, name: str = "file"
) -> tuple[str, bytes]:
    """What is wrong with the upload in a field, in words, or nothing and its bytes.

    A file beyond ``most`` bytes is not read: ``too_large`` is then what is wrong.
    """
    file = request.FILES.get(name)
    if not isinstance(file, UploadedFile):
        return _("Choose a file first."), b""
    if (file.size or 0) > most:
        return too_large, b""
    return "", file.read()
