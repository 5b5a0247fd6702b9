"""Opening: the bytes of a PNG, JPEG or WebP to grey levels, within limits of size and memory.

What a file is, is told by its first bytes. Colours become the grey of their brightness (ITU-R BT.601, as Pillow
has it), what is see-through lies on white, and a camera's turn is undone. A picture of more than WORKED_PIXELS is
reduced by a whole number, each pixel the mean of those it stands for.
"""

import io
import math
import struct
import warnings
import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from parts.errors import Unreadable

if TYPE_CHECKING:
    from PIL.Image import Image

Levels: TypeAlias = NDArray[np.uint8]

LARGEST_BYTES = 20_000_000
MOST_PIXELS = 50_000_000
"""As the largest cameras of telephones have; decoded it takes 150 MB."""
MOST_CLEAR_PIXELS = 25_000_000
"""Of a PNG or WebP, whose pixels may take four bytes and which can't be decoded at less than its size."""
WORKED_PIXELS = 4_200_000
"""About 2,000 by 2,000; what is left out by reducing more than that is far finer than a cut."""
LEAST_SIDE = 16
KINDS = ("png", "jpg", "jpeg", "webp")
_MARKS = ((b"\x89PNG\r\n\x1a\n", "PNG"), (b"\xff\xd8\xff", "JPEG"))
_OTHERS = (
    (b"GIF8", "a GIF"),
    (b"II*\x00", "a TIFF"),
    (b"MM\x00*", "a TIFF"),
    (b"BM", "a BMP"),
    (b"8BPS", "a layered picture"),
    (b"\x00\x00\x01\x00", "an icon"),
)
_FAINT = 40  # levels between the darkest and the lightest, under which nothing is told apart on white
_BROKEN = (OSError, SyntaxError, ValueError, EOFError, struct.error, zlib.error, IndexError, KeyError, OverflowError)
"""What Pillow raises over a broken file."""


@dataclass(frozen=True, eq=False)
class Picture:
    """Grey levels, 0 black to 255 white, first row on top.

    `reduced` is how many pixels of the file one of these is wide. `said` are sentences of what was decided on the way.
    """

    levels: Levels
    reduced: int = 1
    said: tuple[str, ...] = ()

    @property
    def width(self) -> int:
        """Pixels across."""
        return int(self.levels.shape[1])

    @property
    def height(self) -> int:
        """Pixels down."""
        return int(self.levels.shape[0])


def kind_of(data: bytes) -> str:
    """Return what a picture file is, by its first bytes: PNG, JPEG, WEBP, or nothing of these."""
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "WEBP"
    return next((kind for mark, kind in _MARKS if data.startswith(mark)), "")


def is_picture(data: bytes) -> bool:
    """Tell whether bytes are a picture of any kind, one that is read or one that is refused by its name."""
    return bool(kind_of(data) or _other(data))


def _other(data: bytes) -> str:
    if data[4:8] == b"ftyp":
        return "a HEIC, AVIF or film"
    return next((name for mark, name in _OTHERS if data.startswith(mark)), "")


def opened(data: bytes) -> Picture:
    """Return the picture in a file.

    Raises:
        Unreadable: if it is no PNG, JPEG or WebP, broken, too large or too small; the end of a sentence.
    """
    kind = kind_of(data)
    if not kind:
        raise Unreadable(f"it is {_other(data) or 'no picture'}; save it as PNG, JPEG or WebP")
    if len(data) > LARGEST_BYTES:
        raise Unreadable(f"it has {len(data) / 1e6:,.1f} MB and at most {LARGEST_BYTES / 1e6:,.0f} MB are read")
    from PIL import Image  # noqa: PLC0415 - 30 ms, where no picture is asked for

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # on broken EXIF and on size, which is looked at below
        try:
            with Image.open(io.BytesIO(data), formats=(kind,)) as image:
                return _read(image, kind)
        except Image.DecompressionBombError:
            raise Unreadable(f"it unfolds to far more than {MOST_PIXELS // 10**6} million pixels") from None
        except MemoryError:
            raise Unreadable("it takes more memory than there is for one picture; save it smaller") from None
        except _BROKEN as error:
            raise Unreadable(_why_broken(error)) from error


def _why_broken(error: Exception) -> str:
    if "truncated" in str(error).lower():
        return "it is cut short; send the whole file"
    return "it is broken; open it in a picture program and save it again"


def _read(image: "Image", kind: str) -> Picture:
    from PIL import ImageOps  # noqa: PLC0415 - as Pillow

    said = _looked_at(image, kind)
    size = image.size
    if kind == "JPEG":  # decoded at an eighth, a quarter or half of its size where that is enough
        factor = math.sqrt(WORKED_PIXELS / (size[0] * size[1]))
        if factor < 1:
            image.draft(None, (math.ceil(size[0] * factor), math.ceil(size[1] * factor)))
    image.load()
    factor = math.ceil(math.sqrt(image.width * image.height / WORKED_PIXELS))
    turned = ImageOps.exif_transpose(image)
    grey = _grey(turned, factor)
    reduced = round(max(size) / max(grey.size))
    if reduced > 1:
        said = (*said, f"reduced {size[0]:,} by {size[1]:,} pixels to {grey.width:,} by {grey.height:,}")
    return Picture(np.asarray(grey, dtype=np.uint8), reduced, said)


def _looked_at(image: "Image", kind: str) -> tuple[str, ...]:
    """What has to be said of a picture before it is decoded.

    Raises:
        Unreadable: if it is too large or too small.
    """
    wide, high = image.size
    most = MOST_PIXELS if kind == "JPEG" else MOST_CLEAR_PIXELS
    if wide * high > most:
        raise Unreadable(
            f"it has {wide:,} by {high:,} pixels and at most {most // 10**6} million are read; save it smaller"
        )
    if min(wide, high) < LEAST_SIDE:
        raise Unreadable(f"it has {wide:,} by {high:,} pixels; a shape is told from {LEAST_SIDE} by {LEAST_SIDE} on")
    if getattr(image, "n_frames", 1) > 1:
        return ("took the first of its pictures, since it moves",)
    return ()


def _grey(image: "Image", factor: int) -> "Image":
    """The picture in 8 bits of grey, on white, reduced."""
    from PIL import Image  # noqa: PLC0415 - as Pillow

    if image.mode.startswith(("I", "F")):  # 16 bits and more
        return _reduced(Image.fromarray(_eight_bits(np.asarray(image))), factor)
    is_clear = "A" in image.getbands() or "transparency" in image.info
    if not is_clear:
        return _reduced(image.convert("L"), factor)
    clear = _reduced(image.convert("RGBA"), factor)
    alpha = clear.getchannel("A")
    white = Image.new("L", clear.size, 255)
    white.paste(clear.convert("L"), mask=alpha)
    low, high = white.getextrema()
    if float(high) - float(low) < _FAINT:  # type: ignore[arg-type]  # one band: two numbers
        return alpha.point([255 - level for level in range(256)])  # white on nothing: what is there is the shape
    return white


def _eight_bits(values: NDArray[np.generic]) -> Levels:
    """Sixteen bits as eight; a few files of 12 bits use the low ones alone."""
    plain = np.nan_to_num(values.astype(np.float64))
    most = float(plain.max(initial=0.0))
    full = 1.0 if most <= 1 else 255.0 if most <= 255 else 4095.0 if most <= 4095 else 65535.0
    scaled: Levels = np.clip(plain * (255 / full) + 0.5, 0, 255).astype(np.uint8)
    return scaled


def _reduced(image: "Image", factor: int) -> "Image":
    return image.reduce(factor) if factor > 1 else image
