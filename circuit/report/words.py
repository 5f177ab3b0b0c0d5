"""The words every report uses, in one place."""

CAUTION = (
    "Predicted from the design file as written: a drawing check. It does not replace inspection, test or approval by a "
    "licensed person under the local code, and says nothing of parts as fitted."
)

SHOP = (
    "Before any line is opened: level ground, wheels chocked, every reservoir drained to nothing; a reservoir behind a "
    "check valve stays charged. Never open a spring chamber."
)


def count(number: int, noun: str) -> str:
    """`1 finding`, `2 findings`."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
