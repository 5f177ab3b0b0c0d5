"""What a part's place keeps when another kind comes into it: the ports that mean the same, and what says where a part is."""

from circuit.declaring.kind import Kind, Port

_OF_THE_PLACE = ("word", "text", "name", "names", "reference", "place")
"""Dimensions of settings that say where a part is and what it is for; a quantity belongs to the part itself."""


def carried_port(was: Kind, port: Port, new: Kind) -> Port | None:
    """The port of a new kind that means what a port of the old one meant: of one role, and called or numbered alike, or the only
    one of its role in both. None where nothing does."""
    alike = [other for other in new.ports if other.role is port.role]
    for other in alike:
        if set(other.words) & set(port.words):
            return other
    for other in alike:
        if other.number == port.number:
            return other
    return alike[0] if len(alike) == 1 and len(was.ports_as(port.role)) == 1 else None


def says_where(name: str, was: Kind, new: Kind) -> bool:
    """Whether a setting stays when its part is replaced: both kinds read it alike, and it says where the part is, not what it is.

    A flow or a size written for the old part is none of the new one, which is then typical unless the row says more.
    """
    old, other = was.setting(name), new.setting(name)
    return (old is not None and other is not None and old.dimension == other.dimension and old.dimension in _OF_THE_PLACE
            and set(old.choices) <= set(other.choices))
