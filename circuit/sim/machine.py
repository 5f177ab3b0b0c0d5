"""The kernel compiled: its text as a WebAssembly module, memory laid out for it, and what runs it.

The module is the same in every process and in a browser. It is translated and compiled in a tenth of a second, and kept
between runs.
"""

import atexit
import ctypes
import struct
import threading
from array import array
from collections.abc import Sequence
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

from circuit.cache import kept
from circuit.sim.arrays import Arrays, Room, Tableau, room_sizes
from circuit.sim.layout import WORD, Record, record_of

PARTS = ("power", "elements", "equations", "stepping", "kernel")
"""The files with the kernel's text."""
TRANSLATORS = ("arrays", "layout", "expressions", "translate", "vector")
"""The files that decide what becomes of it."""
ENTRIES = ("integrate", "frame", "carry_on", "refresh", "flows", "air")
"""Functions that are called from outside."""
CODES = {"f64": "d", "i32": "i"}
PAGE = 65536
MOST_EVENTS = 4000
"""More than any sound circuit has; a run with more is stopped."""
RECORDS = 1024
"""Most steps that are kept in the kernel's memory before they are read out."""
RECORDED = 1_000_000
"""Most numbers of them."""

ARRAYS, ROOM, METHOD = record_of(Arrays), record_of(Room), record_of(Tableau)


class Image(NamedTuple):
    """The memory of a run at its start.

    data: of all but events and record, which nobody reads before they are written. method, arrays, room: addresses.
    places: of rows and fields of `Arrays` and `Room`, where Arrays' begin with `a.` and Room's with `room.`. size: bytes
    with events and record."""

    data: bytearray
    method: int
    arrays: int
    room: int
    places: dict[str, int]
    size: int
    records: int


def image(a: Arrays, method: Tableau, records: int = 0) -> Image:
    """The memory for a circuit and a method, its room empty. records: how many steps it has place for; 0: a good many."""
    records = records or max(64, min(RECORDS, RECORDED // (1 + 2 * a.watching)))
    sizes = room_sizes(a, method, records, MOST_EVENTS)
    late = {name: sizes.pop(name) for name in ("events", "record")}
    data = bytearray(16)
    places: dict[str, int] = {}
    at_method = _record(data, METHOD, method._asdict(), places, "method.")
    at_arrays = _record(data, ARRAYS, a._asdict(), places, "a.")
    at_room = _record(data, ROOM, dict(sizes), places, "room.")
    end = len(data)
    for name, size in late.items():
        struct.pack_into("<i", data, at_room + ROOM.fields[name].place, end)
        places["room." + name] = end
        end += 8 * size
    for name, value in (("most_records", records), ("most_events", MOST_EVENTS)):
        struct.pack_into("<i", data, at_room + ROOM.fields[name].place, value)
    return Image(data, at_method, at_arrays, at_room, places, end, records)


def _record(data: bytearray, record: Record, values: dict[str, Any], places: dict[str, int], prefix: str) -> int:
    """Appends a record and its rows; a row given as a number is that many zeros. Returns the record's address."""
    address = len(data)
    data += bytes(WORD * len(record.fields))
    for name, (kind, place) in record.fields.items():
        value = values.get(name, 0)
        if kind.endswith("[]"):
            data += bytes(-len(data) % 16)
            struct.pack_into("<i", data, address + place, len(data))
            places[prefix + name] = len(data)
            size = 8 if kind == "f64[]" else 4
            data += bytes(size * value) if isinstance(value, int) else array(CODES[kind[:-2]], value).tobytes()
        else:
            struct.pack_into("<" + CODES[kind], data, address + place, value)
            places[prefix + name] = address + place
    data += bytes(-len(data) % 16)
    return address


ROOM_HEAD = WORD * len(ROOM.fields)
"""Bytes of a room's fields."""


def head_of(data: bytes) -> dict[str, Any]:
    """The fields of a room that are numbers."""
    return {name: struct.unpack_from("<" + CODES[kind], data, place)[0]
            for name, (kind, place) in _HEAD}


_HEAD = [(name, field) for name, field in ROOM.fields.items() if not field.kind.endswith("[]")]


def written(data: bytearray, at: int, kind: str, values: Sequence[Any]) -> None:
    """Puts numbers into memory. kind: of a row."""
    code = CODES[kind[:-2]]
    data[at:at + len(values) * (8 if code == "d" else 4)] = array(code, values).tobytes()


def varied(base: Image, a: Arrays, changed: Arrays) -> Image:
    """The memory for arrays that differ only in numbers, or have shorter rows; with a copy of what the base holds."""
    data = bytearray(base.data)
    for name in Arrays._fields:
        new: Any = getattr(changed, name)
        if new is not getattr(a, name):
            kind = ARRAYS.fields[name].kind
            if kind.endswith("[]"):
                written(data, base.places["a." + name], kind, new)
            else:
                struct.pack_into("<" + CODES[kind], data, base.places["a." + name], new)
    return base._replace(data=data)


def text() -> str:
    """The module's text."""
    from circuit.sim import translate

    parts = [import_module(f"circuit.sim.{name}") for name in PARTS]
    functions = [function for part in parts for function in part.FUNCTIONS]
    return translate.module_text(functions, ENTRIES, (Arrays, Room, Tableau))


@cache
def binary() -> bytes:
    """The module, as a browser takes it too."""
    def make() -> bytes:
        import wasmtime

        return bytes(wasmtime.wat2wasm(text()))

    sources = [Path(__file__).with_name(f"{name}.py").read_text(encoding="utf-8") for name in (*PARTS, *TRANSLATORS)]
    return bytes(kept("kernel", "".join(sources), make))


@cache
def _module() -> Any:
    """The module compiled for this machine."""
    import platform

    import wasmtime

    engine = wasmtime.Engine()
    code = binary()
    made_of = repr((code, wasmtime.__file__, platform.machine(), platform.node()))

    def make() -> bytes:
        return bytes(wasmtime.Module(engine, code).serialize())

    try:
        return engine, wasmtime.Module.deserialize(engine, kept("kernel-compiled", made_of, make))
    except wasmtime.WasmtimeError:  # what was kept is of another version
        return engine, wasmtime.Module(engine, code)


class Home:
    """An instance of the module with a memory of its own; one thread at a time."""

    def __init__(self) -> None:
        import wasmtime

        engine, module = _module()
        self.store = wasmtime.Store(engine)
        self.memory = wasmtime.Memory(self.store, wasmtime.MemoryType(wasmtime.Limits(1, None)))
        linker = wasmtime.Linker(engine)
        linker.define(self.store, "host", "memory", self.memory)
        instance = linker.instantiate(self.store, module)
        self.functions: dict[str, Any] = {name: instance.exports(self.store)[name] for name in ENTRIES}

    def put(self, given: Image) -> None:
        """Lays an image into the memory."""
        short = given.size - self.memory.data_len(self.store)
        if short > 0:
            self.memory.grow(self.store, -(-short // PAGE))
        ctypes.memmove(self.address(0), (ctypes.c_char * len(given.data)).from_buffer(given.data), len(given.data))

    def address(self, at: int) -> int:
        """Where a place of the memory lies in the process, until the memory grows."""
        return int(ctypes.addressof(self.memory.data_ptr(self.store).contents)) + at

    def bytes_at(self, at: int, size: int) -> bytes:
        return ctypes.string_at(self.address(at), size)

    def numbers(self, at: int, count: int) -> list[float]:
        return list(struct.unpack(f"<{count}d", self.bytes_at(at, 8 * count)))

    def whole(self, at: int) -> int:
        return int(struct.unpack("<i", self.bytes_at(at, 4))[0])

    def set_whole(self, at: int, value: int) -> None:
        ctypes.memmove(self.address(at), struct.pack("<i", value), 4)

    def set_number(self, at: int, value: float) -> None:
        ctypes.memmove(self.address(at), struct.pack("<d", value), 8)

    def put_row(self, at: int, kind: str, values: Sequence[Any]) -> None:
        """Numbers into a row. kind: of the row."""
        data = array(CODES[kind[:-2]], values).tobytes()
        ctypes.memmove(self.address(at), data, len(data))

    def call(self, name: str, *given: Any) -> Any:
        return self.functions[name](self.store, *given)


_homes = threading.local()


def home() -> Home:
    """This thread's instance."""
    if not hasattr(_homes, "home"):
        _homes.home = Home()
        atexit.unregister(_let_go)
        atexit.register(_let_go)
    found: Home = _homes.home
    return found


def _let_go() -> None:
    """Frees the machine's things while what frees them is still there: at the end of a process the order is not ours."""
    _homes.__dict__.clear()
    _module.cache_clear()
