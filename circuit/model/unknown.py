"""What of a design hangs on a mistake: noted while names are looked up, so that all else can still be judged."""

from dataclasses import dataclass, field
from typing import Any

from circuit.declaring.following import following
from circuit.declaring.kind import Kind, Setting
from circuit.model.settings import typical_value
from circuit.units import UnitMistake, example, to_si

CHAMBERS = ("20", "30/30")
"""Types that stand in for one that is not known: of a chamber, and of one with a spring."""


@dataclass(slots=True)
class Unknown:
    """things: parts whose own row is not understood. torn: those, and axles and circuits, of which more may be wrong than a
    value. ports: (thing, port) at which something may be joined that is not understood. lost: rows that may be anything: that
    cannot be read, or have swallowed another. is_class_lost: the vehicle's class. values: of a thing, the settings that are
    not known, with what might as well be meant as what stands in for them.
    """

    things: set[str] = field(default_factory=set)
    torn: set[str] = field(default_factory=set)
    ports: set[tuple[str, str]] = field(default_factory=set)
    lost: int = 0
    is_class_lost: bool = False
    values: dict[str, dict[str, Any]] = field(default_factory=dict)

    @property
    def is_nothing(self) -> bool:
        """Whether no mistake touches the circuit, as those in a trial or a remark."""
        return not (self.things or self.torn or self.ports or self.lost or self.is_class_lost)


def stand_in(kind: Kind, values: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any], bool] | None:
    """Values of a part whose row is not understood: all of them, for those that are not known another that might be meant, and
    whether there is one for each.

    values: what is known, None where it is not. None where no values of the kind go together.
    """
    due = [setting for setting in kind.settings if setting.required or setting.typical or setting.dimension == "size"]
    for known in (values, {}):
        missing = [setting for setting in due if known.get(setting.name) is None]
        for chamber in CHAMBERS:
            full = {**dict.fromkeys(setting.name for setting in kind.settings), **known}
            for setting in missing:
                _put(full, setting, chamber if setting.dimension == "chamber" else plausible(setting))
            found = _followed(kind, full)
            if found is not None:
                others = _others(kind, full, missing)
                return found, others, known is values and all(setting.name in others for setting in missing)
    return None


def _put(values: dict[str, Any], setting: Setting, value: Any) -> None:
    if setting.dimension == "size" and value is not None:
        values[setting.name], values["bore"] = value
    else:
        values[setting.name] = value


def _others(kind: Kind, values: dict[str, Any], missing: list[Setting]) -> dict[str, Any]:
    """For each setting that is not known another value, where that goes together with the rest."""
    found = {setting.name: _other(setting, values[setting.name]) for setting in missing}
    return {name: other for name, other in found.items()
            if other is not None and _followed(kind, {**values, name: other}) is not None}


def varied(kind: Kind, values: dict[str, Any], others: dict[str, Any]) -> dict[str, Any]:
    """Values with as many of others put in their places as go together."""
    for name, other in others.items():
        values = _followed(kind, {**values, name: other}) or values
    return values


def _followed(kind: Kind, values: dict[str, Any]) -> dict[str, Any] | None:
    """The values with what follows from them, or None where they contradict each other."""
    try:
        return {**values, **following(kind, values)}
    except (ValueError, KeyError, TypeError):
        return None


def plausible(setting: Setting) -> Any:
    """A value that a setting may have: the typical one, else the example of its dimension."""
    if setting.typical is not None:
        return typical_value(setting)
    match setting.dimension:
        case "word":
            return setting.choices[0]
        case "size":
            return 9.525e-3, 6.35e-3  # 3/8 in tube: any that is usual
        case "bore":
            return 9.5e-3
        case "count":
            return 1
        case "ratio":
            return 1.0
        case "text" | "chamber" | "name" | "names" | "reference" | "place" | "bound" | "any":
            return None
    try:
        return to_si(example(setting.dimension), setting.dimension)
    except UnitMistake:
        return None


def _other(setting: Setting, value: Any) -> Any:
    """Another value that might as well be meant, clearly apart from the first."""
    if setting.dimension == "word":
        return next((choice for choice in reversed(setting.choices) if choice != value), None)
    if setting.dimension == "chamber":
        return next(iter({"20", "24"} - {value}))
    if setting.dimension != "size" and isinstance(value, (int, float)) and not isinstance(value, bool):
        return value + 1 if isinstance(value, int) else 1.5 * value
    return None
