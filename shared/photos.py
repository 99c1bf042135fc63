"""A photo that somebody hands over: made small and plain, or why it cannot be kept, in words."""

from __future__ import annotations

import io
from typing import Final

from django.http import HttpRequest
from django.utils.translation import gettext as _
from PIL import Image, ImageOps

from shared.uploads import uploaded

FORMATS: Final = ("JPEG", "PNG", "WEBP")
ACCEPTED: Final = "image/jpeg,image/png,image/webp"  # what a field for a photo asks the browser for
MOST_BYTES: Final = 3_500_000  # below what the server takes in one request
MOST_PIXELS: Final = 24_000_000  # of a file, as its header says: 72 MB once unpacked
LONGEST: Final = 1600  # pixels of the longer side that is kept
QUALITY: Final = 80
# How a phone's HEIC file begins, after four bytes of length: ISO/IEC 14496-12, 4.3, with the
# brands of ISO/IEC 23008-12, annexes B and E, and of AVIF, which share the box of images.
HEIC_BRANDS: Final = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1", b"msf1", b"avif")


class PhotoError(ValueError):
    """What was sent is no photo that can be kept; ``why`` is "size", "heic" or "broken"."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


def plain_photo(data: bytes, longest: int = LONGEST) -> bytes:
    """The photo as a new JPEG: upright, bounded, without a word of where and when.

    ``longest`` is in pixels, of the longer side. Only the header is read before the size is
    known. Raises PhotoError.
    """
    if data[4:8] == b"ftyp" and data[8:12] in HEIC_BRANDS:
        raise PhotoError("heic")
    try:
        with Image.open(io.BytesIO(data), formats=FORMATS) as found:
            if found.width * found.height > MOST_PIXELS:
                raise PhotoError("size")
            found.draft("RGB", (longest, longest))
            upright = ImageOps.exif_transpose(found).convert("RGB")
    except Image.DecompressionBombError as bomb:
        raise PhotoError("size") from bomb
    except (OSError, SyntaxError, ValueError, EOFError) as broken:
        if isinstance(broken, PhotoError):
            raise
        raise PhotoError("broken") from broken
    upright.thumbnail((longest, longest))
    return as_jpeg(upright)


def as_jpeg(image: Image.Image) -> bytes:
    """The picture alone: Pillow would write the comment of the file that it was read from."""
    out = io.BytesIO()
    image.info.clear()
    image.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()


def sent_photo(
    request: HttpRequest, name: str = "file", longest: int = LONGEST
) -> tuple[str, bytes]:
    """What is wrong with the photo that was sent, in words, or nothing and the photo made plain."""
    too_large = _("This photo is larger than 3.5 MB. Take it smaller, or cut it.")
    fault, data = uploaded(request, too_large, MOST_BYTES, name)
    if fault:
        return fault, b""
    try:
        return "", plain_photo(data, longest)
    except PhotoError as wrong:
        return _why(wrong), b""


def _why(wrong: PhotoError) -> str:
    if wrong.why == "size":
        return _("This photo has more than 24 million pixels. Take it smaller, or cut it.")
    if wrong.why == "heic":
        return _(
            "This photo is an HEIC file, as many phones keep them; most browsers cannot show that. "
            "Send a screenshot of it, or set the phone's camera to JPEG and take it again."
        )
    return _("This is no whole JPEG, PNG or WebP picture. Choose another file.")
