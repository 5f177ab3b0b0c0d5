"""Measured records beside predictions that were frozen before: how a pair of files is read, and held."""

import tomllib
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

FOLDER = Path(__file__).resolve().parent / "measured"
BEFORE = ("design", "predicted_on", "time")
AFTER = ("source", "measured_on", "added_on", "conditions", "uncertainty_s", "uncertainty_psi", "uncertainty_from")


class Pair(NamedTuple):
    """What was predicted and then measured, as the two files say."""

    name: str
    predicted: dict[str, Any]
    measured: dict[str, Any]


def pairs(folder: Path = FOLDER) -> list[Pair]:
    """Every record of a folder. Raises ValueError for one that lacks something, or was predicted too late."""
    found = []
    for path in sorted(folder.glob("*.toml")):
        if path.name.endswith(".predicted.toml"):
            continue
        before = path.with_name(f"{path.stem}.predicted.toml")
        if not before.is_file():
            raise ValueError(f"{path.name}: no prediction was frozen before it: {before.name} is missing")
        predicted, measured = (tomllib.loads(each.read_text(encoding="utf-8")) for each in (before, path))
        lacks = [key for key in BEFORE if key not in predicted] + [key for key in AFTER if key not in measured]
        lacks += [] if "time" in measured or "trace" in measured else ["time or trace"]
        if lacks:
            raise ValueError(f"{path.name}: lacks {', '.join(lacks)}")
        if not _day(predicted["predicted_on"]) < _day(measured["added_on"]):
            raise ValueError(f"{path.name}: predicted on {predicted['predicted_on']}, which is not before it was added")
        found.append(Pair(path.stem, predicted, measured))
    return found


def outside(pair: Pair) -> list[str]:
    """The measured times that lie outside of the predicted range and its uncertainty, without a reason being named."""
    ranges = {(each["place"], each["what"], each["level_psi"]): each for each in pair.predicted["time"]}
    slack, found = pair.measured["uncertainty_s"], []
    for each in pair.measured.get("time", ()):
        key = (each["place"], each["what"], each["level_psi"])
        if key not in ranges:
            found.append(f"{key}: never predicted")
        elif not ranges[key]["low_s"] - slack <= each["measured_s"] <= ranges[key]["high_s"] + slack and not each.get("reason"):
            found.append(f"{key}: measured {each['measured_s']} s, predicted {ranges[key]['low_s']} to {ranges[key]['high_s']} s")
    return found


def _day(value: date | str) -> date:
    return date.fromisoformat(value) if isinstance(value, str) else value
