"""The reference page of all kinds is generated; the committed one must be what is generated now."""

from pathlib import Path

from circuit import kinds
from circuit.report.kinds import reference_page

PAGE = Path(__file__).resolve().parents[2] / "grammar" / "kinds.md"


def test_the_committed_page_is_what_is_generated() -> None:
    assert PAGE.read_text(encoding="utf-8") == reference_page(), (
        "the page is stale: airwright kinds --format page > grammar/kinds.md"
    )


def test_the_page_tells_every_kind() -> None:
    text = PAGE.read_text(encoding="utf-8")
    assert len(kinds.every()) > 90
    for kind in kinds.every():
        assert f"\n### {kind.name}\n" in text
