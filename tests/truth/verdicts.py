"""Verdicts and counts: of each clause, of each clause at each place, of the whole design, wherever they are printed."""

import re
from collections.abc import Iterator
from typing import Any

from tests.truth.asked import Asked
from tests.truth.printing import Amount, Printing, bare, figure
from tests.truth.tables import text_tables

NOT_MET, UNDECIDED, UNDECIDABLE, TURNS, MET = ORDER = (
    "not met", "cannot be decided from this file", "cannot be decided from any file",
    "met by most of the range", "met")
_IN_ONE_LINE = re.compile(r"-?[\d.,]+(?: (?:psi|bar|L|in3|%|s))?(?: \([\d.,]+ (?:psi|bar|L|in3)\))?")
_MEASURED = re.compile(r"[\d.,]+(?= (?:s|min|psi|bar|L|in3)\b)")
LOOSE = ("filling", "build-up", "findings")
"""Tables whose seconds a print gives in minutes, or whose figures it breaks into two lines."""
_COUNTED = re.compile(r"(\d+) (error|warning)s?\b")
_SHORT = {"turns": TURNS, "met": MET, "NOT": NOT_MET}


def verdicts(asked: Asked) -> Iterator[Printing]:
    """Every verdict of a design, as it is printed."""
    for words, output in ((("check",), "check"), (("check", "--simulate"), "check --simulate")):
        document = asked.document(*words)
        if document is not None:
            yield from _of_check(asked, document["designs"][0], words, output)
    yield from _by_simulation(asked)
    yield from _rest(asked)


def worst(outcomes: list[str]) -> str:
    """The outcome that stands for several, as `check` orders them."""
    return min((outcome.replace("not met, accepted", NOT_MET) for outcome in outcomes), key=ORDER.index)


def named(entry: dict[str, Any]) -> dict[str, str]:
    """How each clause is cited, by its key, from an entry of a check's JSON."""
    found: dict[str, str] = {}
    pending: list[Any] = [entry]
    while pending:
        each = pending.pop()
        if isinstance(each, dict):
            if "cited" in each and "key" in each:
                found[each["key"]] = each["cited"]
            pending += list(each.values())
        elif isinstance(each, list):
            pending += each
    return found


def amount(given: dict[str, Any], word: str = "found") -> tuple[Amount, ...]:
    """The figure of a check's JSON; one without a unit is a share, or a ratio, which is above 1."""
    if given[word] is None or (not given["unit"] and given[word] > 1.0):
        return ()
    return figure(f"{given[word]:.6f} {given['unit']}" if given["unit"] else f"{100.0 * given[word]:.6f} %")


def _of_check(asked: Asked, entry: dict[str, Any], words: tuple[str, ...], output: str) -> Iterator[Printing]:
    cited = named(entry)
    for row in entry["coverage"]:
        place = cited.get(row["clause"], row["clause"])
        yield Printing(f"clause by {output}", place, f"{output} json", words=row["outcome"])
        if row["outcome"] in (MET, TURNS, NOT_MET):
            yield Printing("clause decided", place, f"{output} json", words=row["outcome"])
    tables = asked.tables(*words)
    rows = tables.get("clauses", [])
    own = [row for row in rows if row["file"] == rows[0]["file"]]
    by_clause: dict[str, list[str]] = {}
    for row in own:
        by_clause.setdefault(row["clause"], []).append(row["outcome"])
    for clause, outcomes in by_clause.items():
        yield Printing(f"clause by {output}", clause, f"{output} csv", words=worst(outcomes))
    yield from _at_places(own, f"{output} csv")
    yield from _counts(asked, entry, words, output)
    if output == "check":
        _, _, table = asked.text("check", "--clauses").split("by itself")[0].rpartition("\nClauses\n")
        for row in (row for shown in text_tables(table) for row in shown):
            outcome = next((cell for cell in row if cell in (*ORDER, "not met, accepted")), "")
            clause = next((name for key, name in cited.items() if row[0] in (key, name, key.partition("/")[2])), "")
            if outcome and clause:
                yield Printing("clause by check", clause, "check --clauses text", words=worst([outcome]))


def _at_places(rows: list[dict[str, str]], output: str) -> Iterator[Printing]:
    """The rows of a clause coverage that a simulation decided: one verdict and one figure for a clause at a place."""
    for row in rows:
        if "predicted by simulation" in row["what was seen"]:
            place = _said_at(row["clause"], row["where"], row["what was seen"])
            yield Printing("simulated clause", place, output, figure(row["found"]), row["outcome"].replace(", accepted", ""))


def _counts(asked: Asked, entry: dict[str, Any], words: tuple[str, ...], output: str) -> Iterator[Printing]:
    """Findings counted in the text, in the JSON, by the exit status."""
    text, (status, _, _) = asked.text(*words), asked.say(*words)
    own = text.split("by itself")[0]
    every = [entry, *entry.get("vehicles", ())]
    findings = [one for each in every for one in each["findings"] if not one["waived"]]
    yield Printing(f"findings of {output}", "any", f"{output} json", words=str(bool(findings)))
    yield Printing(f"findings of {output}", "any", f"{output} json clean", words=str(not all(e["clean"] for e in every)))
    yield Printing(f"findings of {output}", "any", f"{output} exit status", words=str(status == 1))
    for severity in ("error", "warning"):
        number = sum(one["severity"] == severity for one in entry["findings"] if not one["waived"])
        yield Printing(f"findings of {output}", f"{severity}s", f"{output} json", words=str(number))
        said = re.search(r"^Not met: (.*)$", own, re.M)
        if said:
            counted = dict((word, number) for number, word in _COUNTED.findall(said.group(1)))
            yield Printing(f"findings of {output}", f"{severity}s", f"{output} text", words=counted.get(severity, "0"))
        listed = len(re.findall(rf"^\d+ {severity.upper()}  ", own, re.M))
        yield Printing(f"findings of {output}", f"{severity}s", f"{output} text, list", words=str(listed))
    for head, number in (("Met", len(entry["met"])), ("Cannot be decided from this file", len(entry["undecided"])),
                         ("Cannot be decided from any file", len(entry["undecidable"]))):
        yield Printing(f"count of {output}", head, f"{output} json", words=str(number))
        if said := re.search(rf"^{head}: (\d+)", own, re.M):
            yield Printing(f"count of {output}", head, f"{output} text", words=said.group(1))
    yield Printing("values assumed", "all", f"{output} json", words=str(len(entry["assumed"])))
    if said := re.search(r"^(\d+) values? not written in the design", own, re.M):
        yield Printing("values assumed", "all", f"{output} text", words=said.group(1))


def _by_simulation(asked: Asked) -> Iterator[Printing]:
    """What a simulation decided: the list of the JSON, the text, the papers, the page, each study with a limit."""
    document = asked.document("check", "--simulate")
    if document is None:
        return
    entry = document["designs"][0]
    by_clause: dict[str, list[str]] = {}
    filled: dict[str, list[tuple[tuple[Amount, ...], str]]] = {}
    for each in entry.get("predicted", ()):
        place = f"{each['clause']['cited']} at {each['thing']}"
        by_clause.setdefault(each["clause"]["cited"], []).append(each["outcome"])
        said = _said_at(each["clause"]["cited"], each["thing"], each["says"])
        yield Printing("simulated clause", said, "check --simulate json", amount(each["figure"]) if "figure" in each else (),
                       each["outcome"])
        if "figure" in each and each["question"] == "air-builds-slowly":
            filled.setdefault(each["clause"]["cited"], []).append((amount(each["figure"]), each["outcome"]))
        elif "figure" in each:
            yield Printing("study's clause", place, "check --simulate json", amount(each["figure"]), each["outcome"])
    yield from _in_turn(filled, "check --simulate json")
    for clause, outcomes in by_clause.items():
        yield Printing("worst simulated", clause, "check --simulate json", words=worst(outcomes))
    for clause, word in _told(asked.text("check", "--simulate").split("by itself")[0]):
        yield Printing("worst simulated", clause, "check --simulate text", words=word)
    yield from _at_places(asked.papers.get("clauses", []), "papers csv")
    for row in asked.page_rows[0].get("Clause coverage", ()):
        if len(row) >= 7 and "predicted by simulation" in row[4]:
            yield Printing("simulated clause", _said_at(row[1], row[3], row[4]), "page", figure(row[5]),
                           row[0].replace(", accepted", ""))
    yield from _of_studies(asked)


def _said_at(clause: str, where: str, says: str) -> str:
    """A clause at a place, with what is said there: it may ask several things of one."""
    return f"{clause} at {where}: {_MEASURED.sub('#', says).removesuffix('; predicted by simulation')}"


def _in_turn(filled: dict[str, list[tuple[tuple[Amount, ...], str]]], output: str) -> Iterator[Printing]:
    """Times to fill that one clause limits, the shortest first: it may ask several of them."""
    for clause, found in filled.items():
        for number, (figures, outcome) in enumerate(sorted(found), 1):
            yield Printing("study's clause", f"{clause}, time {number}", output, figures, outcome)


def _told(text: str) -> Iterator[tuple[str, str]]:
    """Clause and verdict of each that the text tells as predicted from simulations."""
    _, _, predicted = text.partition("Predicted from simulations")
    clause = ""
    for line in predicted.split("\n"):
        if head := re.match(r"  [+-] (.*?): ", f"{line} "):
            clause = head.group(1)
        elif clause and (word := re.match(r"      (met|turns|NOT) ", line)):
            yield clause, _SHORT[word.group(1)]
            clause = ""


def _of_studies(asked: Asked) -> Iterator[Printing]:
    """Outcome and figure of each row of a study that is held to a clause."""
    for study, table, where, found in (("charge", "build-up", "", "time s"), ("respond", "response", "place", "time s"),
                                       ("reserve", "reserve-limits", "at", "predicted")):
        for output, rows in ((f"{study} csv", asked.tables(study).get(table, [])), ("papers csv", asked.papers.get(table, []))):
            filled: dict[str, list[tuple[tuple[Amount, ...], str]]] = {}
            for row in rows:
                if row["asked by"] and row["outcome"]:
                    figures, outcome = _seconds(row[found]), outcome_of(row["outcome"])
                    if where:
                        yield Printing("study's clause", f"{row['asked by']} at {row[where]}", output, figures, outcome)
                    elif figures:
                        filled.setdefault(row["asked by"], []).append((figures, outcome))
            yield from _in_turn(filled, output)


def outcome_of(cell: str) -> str:
    """The verdict in a study's words: of `met, a guide` that it is met."""
    if cell.startswith("not met"):
        return NOT_MET
    return TURNS if cell.startswith(TURNS) else MET if cell.startswith("met") else cell


def _seconds(cell: str) -> tuple[Amount, ...]:
    return figure(cell if not re.fullmatch(r"[\d.]+", cell) else f"{cell} s")


def _rest(asked: Asked) -> Iterator[Printing]:
    """Counts on the page, on the cover, in the papers."""
    if asked.papers:
        yield Printing("values assumed", "all", "papers csv", words=str(len(asked.papers.get("assumptions", []))))
    tally: dict[str, int] = {}
    for row in asked.papers.get("clauses", []):
        tally[row["outcome"]] = tally.get(row["outcome"], 0) + 1
    for outcome, number in tally.items():
        yield Printing("rows of the coverage", outcome, "papers csv", words=str(number))
    for outcome, number in re.findall(r"> ([a-z ,]+) \((\d+)\)</label>", asked.page):
        if outcome in (*ORDER, "not met, accepted"):
            yield Printing("rows of the coverage", outcome, "page", words=number)
    if said := re.search(r'<div class="verdict[^>]*><p class="verdict-head">(.*?)</p><p>(.*?)</p>', asked.page):
        for word, outcome in (("met", MET), ("not decided from this file", UNDECIDED), ("that no file decides", UNDECIDABLE)):
            counted = re.search(rf"(\d+) {word}(?:,|$)", said.group(2))
            if counted and counted.group(1) != "0":
                yield Printing("rows of the coverage", outcome, "page, head", words=counted.group(1))
        yield Printing("findings, with vehicles", "any", "page", words=str(said.group(1).startswith("Not met")))
    status, _, _ = asked.say("check", "--simulate")
    yield Printing("findings, with vehicles", "any", "check --simulate exit status", words=str(status == 1))
    cover = " ".join(asked.pdf[:6000].split())
    if said := re.search(r"(\d+), listed on the paper of assumptions", cover):
        yield Printing("values assumed", "all", "papers pdf", words=said.group(1))
    if asked.pdf:
        yield from _in_print(asked)


def _in_print(asked: Asked) -> Iterator[Printing]:
    """Rows of bare figures of the files: whether a line of the PDF has the same."""
    lines = [[each.value for each in bare(line)] for line in asked.pdf.split("\n")]
    for key, rows in asked.papers.items():
        for number, row in enumerate(rows, 1):
            cells = [each.value for cell in row.values() if _IN_ONE_LINE.fullmatch(cell or "") for each in bare(cell)]
            if len(cells) >= 3 and not key.startswith(LOOSE):
                yield Printing(f"printed row of {key}", str(number), "papers csv", words="True")
                there = any(_holds(line, cells) for line in lines)
                yield Printing(f"printed row of {key}", str(number), "papers pdf", words=str(there))


def _holds(line: list[float], wanted: list[float]) -> bool:
    """Whether a line has the figures in their order, whatever stands between."""
    left = iter(line)
    return all(each in left for each in wanted)
