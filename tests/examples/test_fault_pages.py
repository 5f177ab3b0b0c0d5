"""The fault tables and stories beside the examples: there, linked, and still what the commands make; the tables name every
fault, where the command names four parts for an outcome.

They are our own output, frozen; after a change that is meant, `python -m tests.examples.stories` writes them anew.
"""

import re

import pytest

from tests.designs import EXAMPLES, example_names
from tests.examples.stories import PAGES, Page, story_files, studied, table
from tests.faults.studied import study_of

QUICK = (
    "truck-6x4", "teaching-board", "semitrailer-tandem", "semitrailer-single", "semitrailer-old", "converter-dolly")
"""Examples whose faults are studied in a second."""
NUMBER = re.compile(r"\d+(?:\.\d+)?")


def assert_alike(found: str, frozen: str) -> None:
    """The same words, and numbers within what another machine may round otherwise."""
    assert NUMBER.sub("#", found) == NUMBER.sub("#", frozen), "meant? `python -m tests.examples.stories` writes it anew"
    for one, other in zip(NUMBER.findall(found), NUMBER.findall(frozen)):
        assert float(one) == pytest.approx(float(other), rel=0.02, abs=0.11)


@pytest.mark.parametrize("example", QUICK)
def test_the_table_beside_an_example_is_what_the_command_prints(example: str):
    assert_alike(table(study_of(example), example), (EXAMPLES / example / "faults.txt").read_text(encoding="utf-8"))


@pytest.mark.slow
@pytest.mark.parametrize("example", sorted(set(example_names()) - set(QUICK)))
def test_the_table_beside_every_other_example_is_what_the_command_prints(example: str):
    assert_alike(table(studied(example), example), (EXAMPLES / example / "faults.txt").read_text(encoding="utf-8"))


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_a_story_is_there_with_its_pictures_and_linked(page: Page):
    words = page.path.read_text(encoding="utf-8")
    assert page.fault.partition(" + ")[0] in words
    for picture in re.findall(r"\]\((.+?\.svg)\)", words):
        assert (page.path.parent / picture).is_file()
    index = (EXAMPLES / "FAULTS.md").read_text(encoding="utf-8")
    assert f"]({page.path.relative_to(EXAMPLES)})" in index and f"`{page.fault}`" in index
    assert f"faults/{page.name}.md" in (EXAMPLES / page.example / "README.md").read_text(encoding="utf-8")


def test_no_picture_or_page_stands_there_that_nobody_made():
    expected = {page.path.with_name(f"{page.name}{end}") for page in PAGES
                for end in (".md", "-pressures.svg", "-schematic.svg")}
    assert set(EXAMPLES.glob("*/faults/*")) == expected
    assert {path.parent.name for path in EXAMPLES.glob("*/faults.txt")} == set(example_names())


@pytest.mark.parametrize("example", example_names())
def test_the_page_of_an_example_leads_to_its_table(example: str):
    assert "(faults.txt)" in (EXAMPLES / example / "README.md").read_text(encoding="utf-8")


@pytest.mark.slow
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_a_story_is_still_what_the_command_writes(page: Page):
    """Its words; how charts and schematics are drawn is held by their own tests."""
    (text,) = (text for name, text in story_files(page, study_of(page.example)).items() if name.endswith(".md"))
    assert_alike(text, page.path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("example", example_names())
def test_no_leak_of_nothing_is_told(example: str):
    """A run's own error is no leak: at a fed trailer it stood as `0 psi a minute`, on one Python and not on another."""
    said = (EXAMPLES / example / "faults.txt").read_text(encoding="utf-8")
    rates = re.findall(r"(\S+) (?:psi|bar)\s+a\s+minute", said)
    assert all(any(digit in "123456789" for digit in rate) for rate in rates)
