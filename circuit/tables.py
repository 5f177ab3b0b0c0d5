"""The data of `shared/`, and two of its tables in SI: chambers by trade number and tubes by trade size."""

from functools import cache
from typing import Any, NamedTuple

from circuit.cache import kept
from circuit.files import folder

_INCH = 0.0254


@cache
def table(name: str) -> dict[str, Any]:
    """A file of `shared/` as it stands, e.g. `chambers` or `topics`; its keys say the units.

    Raises FileNotFoundError.
    """
    text = (folder("shared") / f"{name}.toml").read_text(encoding="utf-8")
    found: dict[str, Any] = kept(f"{name.replace('/', '-')}.table", text, lambda: _parsed(text))
    return found


def _parsed(text: str) -> dict[str, Any]:
    import tomllib

    return tomllib.loads(text)


class Chamber(NamedTuple):
    """A row of the chamber table. area: m2, nominal. rated: m3. strokes: m, least and greatest full stroke."""

    type: int
    area: float
    rated: float
    strokes: tuple[float, float]


@cache
def chambers() -> dict[int, Chamber]:
    """Trade number to its row. Source: 49 CFR 571.121 Table V."""
    return {
        row["type"]: Chamber(
            row["type"],
            row["type"] * _INCH**2,
            row["rated_in3"] * _INCH**3,
            (row["full_stroke_in"][0] * _INCH, row["full_stroke_in"][1] * _INCH),
        )
        for row in table("chambers")["chamber"]
    }


@cache
def stroke_limits() -> dict[int, tuple[float | None, float | None, float | None]]:
    """Trade number to the push-rod limits of a standard, a long-stroke and a 3 in chamber, m. Source: 49 CFR 393.47(e)."""
    def metres(inches: float | None) -> float | None:
        return None if inches is None else inches * _INCH

    return {row["type"]: (metres(row["stroke_limit_in"]), metres(row.get("stroke_limit_long_in")),
                          metres(row.get("stroke_limit_3in_in")))
            for row in table("chambers")["chamber"] if "stroke_limit_in" in row}


@cache
def bends() -> dict[str, tuple[float, float]]:
    """Trade size of tube to the tightest radius with the bend held by a former, and without, m."""
    known = {row["size"]: (row["bend_in"] * _INCH, row["bend_free_in"] * _INCH) for row in table("tubes")["inch"]}
    metric = table("tubes")["metric"]
    return known | {size: (held * 1e-3, metric["bend_free_mm"][size] * 1e-3) for size, held in metric["bend_mm"].items()}


@cache
def tubes() -> dict[str, tuple[float, float]]:
    """Trade size as written (`3/8 in` without the unit, or `12x1.5`) to outside diameter and bore, m."""
    known: dict[str, tuple[float, float]] = {}
    for row in table("tubes")["inch"]:
        over, under = row["size"].split("/")
        known[row["size"]] = (int(over) / int(under) * _INCH, row["bore_in"] * _INCH)
    for size in table("tubes")["metric"]["sizes"]:
        outside, wall = (float(part) * 1e-3 for part in size.split("x"))
        known[size] = (outside, outside - 2 * wall)
    return known


@cache
def listed_tubes() -> tuple[str, ...]:
    """The trade sizes of tube that 49 CFR 571.106 Tables VII and VIII list."""
    return (*(row["size"] for row in table("tubes")["inch"]), *table("tubes")["metric"]["federal"])


def trade_size(outside: float, bore: float) -> str:
    """The trade size of a tube by its outside diameter and bore, m, or "".

    >>> trade_size(0.012, 0.009), trade_size(0.012, 0.010)
    ('12x1.5', '')
    """
    return next((size for size, known in tubes().items()
                 if abs(known[1] - bore) < 1e-6 and abs(known[0] - outside) < 1e-6), "")
