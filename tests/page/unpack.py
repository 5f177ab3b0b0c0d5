"""What the page's script does with packed courses, written again to hold it against what was packed."""

import zlib
from base64 import b64decode
from typing import Any

import numpy


def unpacked(words: str, frames: int, base: Any = None) -> Any:
    """What `pack.packed` was given. frames: columns."""
    planes = numpy.frombuffer(zlib.decompress(b64decode(words), -15), dtype=numpy.uint8).reshape(2, -1)
    steps = planes.T.copy().view("<i2").reshape(-1, frames).astype(numpy.int32)
    whole = steps.cumsum(axis=1)
    return whole if base is None else whole + base
