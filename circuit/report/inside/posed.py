"""A kind alone in one of the states that its section names: typical settings, pressures as the pose has them."""

from typing import Any

from circuit.declaring.following import following
from circuit.declaring.kind import Kind, Setting
from circuit.declaring.section import Pose, Section
from circuit.report.inside.openings import Inside
from circuit.units import ATMOSPHERE, DIMENSIONS, to_si


def settings_of(kind: Kind, section: Section) -> dict[str, Any]:
    """Typical settings, and those that the section gives for what has none."""
    found: dict[str, Any] = {setting.name: _value(setting, section.settings.get(setting.name, "")) for setting in kind.settings}
    return {**found, **following(kind, found)}


def _value(setting: Setting, given: str) -> Any:
    typical = setting.typical or setting.usual
    text = given or (typical.text if typical else "")
    if not text:
        return None
    return to_si(text, setting.dimension) if setting.dimension in DIMENSIONS else text


def posed(kind: Kind, section: Section, pose: Pose) -> Inside:
    """The kind in a pose."""
    pressures = {port.number: ATMOSPHERE + pose.pressures.get(port.number, 0.0) * 1e5 for port in kind.ports}
    return Inside(kind, settings_of(kind, section), pressures, {**kind.rest, **pose.state})
