"""Every finding by its number: severity, what is wrong and its figure, in the text, the JSON, the papers and on the page."""

import html
import re
from collections.abc import Iterator

from tests.truth.asked import Asked
from tests.truth.printing import Printing, figure
from tests.truth.verdicts import amount

_HEAD = re.compile(r"^(\d+) (ERROR|WARNING)  (\S+?)(, by simulation)?$")
SIMULATED = "; predicted by simulation"


def findings(asked: Asked) -> Iterator[Printing]:
    """The open findings of the design itself, simulated ones too."""
    document = asked.document("check", "--simulate")
    entry = document["designs"][0] if document else {"findings": ()}
    for number, each in enumerate((one for one in entry["findings"] if not one["waived"]), 1):
        yield _printing(number, "check --simulate json", each["severity"], each["says"])
        yield Printing("rule of a finding", str(number), "check --simulate json", words=each["rule"])
        if each.get("figure"):
            yield Printing("figure of a finding", str(number), "check --simulate json", amount(each["figure"]))
    yield from _of_text(asked.text("check", "--simulate").split("by itself\n")[0])
    for row in asked.papers.get("findings", ()):
        if row["no."].isdigit():
            yield _printing(row["no."], "papers csv", row["severity"], row["what is wrong"].removesuffix(SIMULATED))
            if row["found"]:
                yield Printing("figure of a finding", row["no."], "papers csv", figure(row["found"]))
    for label, body in re.findall(r'<li class="finding [^"]*" data-finding="(\d+)">(.*?)</li>', asked.page, re.S):
        says, word = (re.search(rf'<span class="{name}">(.*?)</span>', body) for name in ("says", "severity"))
        if says and word:
            yield _printing(label, "page", word.group(1), html.unescape(says.group(1)))
        if found := re.search(r"</b> found (.*?), limit", body):
            yield Printing("figure of a finding", label, "page", figure(html.unescape(found.group(1))))


def _printing(number: int | str, output: str, severity: str, says: str) -> Printing:
    return Printing("finding", str(number), output, words=f"{severity}: {' '.join(says.split())}")


def _of_text(text: str) -> Iterator[Printing]:
    """The findings of a text: a head, the sentence in the next line, the figures further down."""
    number, lines = "", text.partition("\nMet: ")[0].split("\n")
    for head, line in zip(["", *lines], lines):
        if told := _HEAD.match(line):
            number = told.group(1)
            yield Printing("rule of a finding", number, "check --simulate text", words=told.group(3))
        elif told := _HEAD.match(head):
            yield _printing(number, "check --simulate text", told.group(2).lower(), line)
        elif line.startswith("waived") or line.startswith("WAIVED"):
            number = ""
        elif number and (found := re.match(r"  figures  .*?: found (.*?), limit", line)):
            yield Printing("figure of a finding", number, "check --simulate text", figure(found.group(1)))
