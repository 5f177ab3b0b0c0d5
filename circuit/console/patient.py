"""Streams that nobody has to read to the end: a reader that went away changes neither the run nor its exit status."""

import io
import os
import sys


class Patient(io.RawIOBase):
    """What is written goes to a file descriptor for as long as there is somebody at its other end.

    trouble: what kept the rest from being written, "" while nothing did; a reader that went away is no trouble.
    """

    def __init__(self, number: int) -> None:
        self.number, self.trouble, self.is_gone = number, "", False

    def writable(self) -> bool:
        return True

    def fileno(self) -> int:
        return self.number

    def isatty(self) -> bool:
        return not self.is_gone and os.isatty(self.number)

    def write(self, content) -> int:  # type: ignore[no-untyped-def]
        rest = memoryview(content).cast("B")
        while rest and not self.is_gone:
            try:
                rest = rest[os.write(self.number, rest):]
            except BrokenPipeError:
                self.is_gone = True
            except OSError as trouble:
                self.is_gone, self.trouble = True, (trouble.strerror or str(trouble)).lower()
        return len(content)


def take_over() -> "tuple[Patient, ...]":
    """Puts patient streams in the place of standard output and error, where these are the process's own."""
    found = []
    for name, number in (("stdout", 1), ("stderr", 2)):
        stream = getattr(sys, name)
        if stream is None:  # closed before we began
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))
        elif stream is getattr(sys, f"__{name}__") and isinstance(getattr(stream.buffer, "raw", stream.buffer), io.FileIO):
            stream.flush()
            patient = Patient(stream.fileno())
            found.append(patient)
            setattr(sys, name, io.TextIOWrapper(io.BufferedWriter(patient, 1 << 16), stream.encoding, stream.errors,
                                                line_buffering=name == "stderr" or patient.isatty()))
    return tuple(found)
