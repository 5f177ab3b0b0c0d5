"""Section pictures, one file for each kind that has one: the kind's own name, and a `SECTION`. There is no list to edit."""

from importlib import import_module
from pathlib import Path

from circuit.declaring.kind import OUTSIDE, Kind, Passage
from circuit.declaring.section import CYCLE, CYLINDER, LOOKS, PUMP, Section

_FOLDER = Path(__file__).resolve().parent


def names() -> tuple[str, ...]:
    """The kinds that have a section."""
    return tuple(sorted(path.stem.replace("_", "-") for path in _FOLDER.glob("*.py")
                        if path.stem != "__init__" and not path.stem.startswith("of_")))


def find(kind: Kind) -> Section | None:
    """The section of a kind, or None. Raises ValueError for one that does not fit its kind."""
    module = kind.name.replace("-", "_")
    if not (_FOLDER / f"{module}.py").is_file():
        return None
    section: Section = import_module(f"circuit.sections.{module}").SECTION
    if lacks := broken(section, kind):
        raise ValueError(f"circuit/sections/{module}.py: " + "; ".join(lacks))
    return section


def way(passage: Passage) -> str:
    """How a section names a passage."""
    return f"{passage.start}>{passage.end}"


def broken(section: Section, kind: Kind) -> list[str]:
    """What a section lacks or names wrongly: every passage has a seat, and every name leads somewhere."""
    ways = {way(passage) for passage in kind.passages}
    drawn = {each for seat in section.seats for each in seat.ways}
    pump = set(PUMP) if kind.source else set()
    ports = {port.number for port in kind.ports} | {OUTSIDE, "", *section.higher} | ({CYLINDER} if kind.source else set())
    values = ways | set(kind.rest) | set(section.courses) | pump
    found = [f"the passage {each} has no seat" for each in sorted(ways - drawn)]
    found += [f"a seat of {each}, which is no passage" for each in sorted(drawn - ways - pump)]
    found += [f"a hole of {hole.port}, which is no port" for hole in section.holes if hole.port not in ports]
    found += [f"no hole for port {port.number}" for port in kind.ports
              if port.number not in {hole.port for hole in section.holes}]
    found += [f"a mark of {mark.port or mark.look}, which is no port or look" for mark in section.marks
              if mark.port not in ports or mark.look not in LOOKS]
    found += [f"a course of {course.port}, which is no port" for course in section.courses.values() if course.port not in ports]
    found += [f"the move {name} goes by {value}, which is no value of the kind" for name, move in section.moves.items()
              for value in move.by if value not in values]
    named = {name for outline in _outlines(section) for spot in outline for name, _ in spot.moves}
    found += [f"a spot travels with {name}, which is no move" for name in sorted(named - set(section.moves))]
    for pose in section.poses:
        found += [f"pose {pose.title} has {name}, which is no port or state" for name in (*pose.pressures, *pose.state)
                  if name not in ports | set(kind.rest) | ({CYCLE} if pump else set())]
    return found if section.poses else [*found, "no pose"]


def _outlines(section: Section):  # type: ignore[no-untyped-def]
    yield from (mark.spots for mark in section.marks)
    for seat in section.seats:
        yield (seat.at, seat.face)
        yield from seat.flows
    yield tuple(spot for _, spot in section.words)
