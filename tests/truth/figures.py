"""Figures of one quantity in one situation, wherever they are printed: applications, volumes, settings, full reservoirs,
times, trials, the compressor's duty, typical values."""

import json
import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from typing import Any

from tests.truth.asked import Asked, said
from tests.truth.printing import Amount, Printing, amounts, figure

AIR = 101325.0
"""Pa."""


def figures(asked: Asked) -> Iterator[Printing]:
    """Every figure that several outputs print."""
    for part in (_applications, _by_check, _volumes, _governor, _full, _response, _trials, _charging, _leaking, _typical):
        yield from part(asked)


def pascals(value: float | None) -> tuple[Amount, ...]:
    """A gauge pressure of an absolute one in JSON, kPa."""
    return (Amount((value - AIR) / 1e3, 5e-7, "kPa"),) if value is not None else ()


def _found(asked: Asked, study: str) -> Any:
    document = asked.document(study)
    return document["found"] if document is not None else None


def _applications(asked: Asked) -> Iterator[Printing]:
    """What full applications with the engine off leave and give, from JSON, table, limits and volume sheet."""
    found = _found(asked, "reserve")
    if not found:
        return
    start = (found["start"] - AIR) / 1e3
    for store in found["stores"]:
        for number, left in enumerate(store["left"][1:], 1):
            yield Printing("left after applications", f"{store['name']}, {number}", "reserve json", pascals(left))
        for number, given in enumerate(store["given"], 1):
            yield Printing("given in an application", f"{store['name']}, {number}", "reserve json", pascals(given))
    halves = {row["store"]: int(row["to half"]) for row in asked.tables("reserve").get("to-half", ()) if row["to half"].isdigit()}
    for row in asked.tables("reserve").get("applications", ()):
        place = f"{row['store']}, {row['after']}"
        yield Printing("left after applications", place, "reserve csv", figure(row["left in the reservoir"]))
        if row["left %"]:
            yield Printing("left after applications", place, "reserve csv, share", _share(row["left %"], start))
        yield Printing("given in an application", place, "reserve csv", figure(row["given to the chambers"]))
        yield Printing("left by volumes alone", place, "reserve csv", figure(row["by volumes alone"]))
        share = amounts(row["left %"])
        if share and row["store"] in halves and abs(share[0].value - 50) > 0.5:
            yield Printing("half is left", place, "reserve csv, applications", words=str(share[0].value > 50))
            yield Printing("half is left", place, "reserve csv, to half", words=str(int(row["after"]) <= halves[row["store"]]))
    for row in asked.tables("reserve").get("reserve-limits", ()):
        number = re.fullmatch(r"left after (\d+)", row["what"])
        if number and row["predicted"].endswith("%"):
            yield Printing("left after applications", f"{row['at']}, {number.group(1)}", "reserve csv, limits",
                           _share(row["predicted"].removesuffix("%"), start))
    for row in asked.tables("sizes").get("ratios", ()):
        for number in (1, 5, 8):
            if row[f"left % after {number}"]:
                yield Printing("left by volumes alone", f"{row['serves']}, {number}", "sizes csv",
                               _share(row[f"left % after {number}"], start))
    if "a real stroke is shorter, so more is left" in " ".join(asked.text("sizes").split()):
        for row in asked.tables("sizes").get("ratios", ()):
            for number in (1, 5, 8):
                yield Printing("left after applications", f"{row['serves']}, {number}", "sizes text",
                               _share(row[f"left % after {number}"], start), bound="at least")


def _share(percent: str, whole: float) -> tuple[Amount, ...]:
    """A share of a pressure as that pressure, kPa."""
    return tuple(Amount(each.value / 100 * whole, each.half / 100 * whole, "kPa") for each in amounts(percent)[:1])


def _by_check(asked: Asked) -> Iterator[Printing]:
    """What a check counts by volumes or takes from a run: of the stored air, of time, of ratios."""
    found = _found(asked, "reserve")
    start = (found["start"] - AIR) / 1e3 if found else None
    for words, output in ((("check",), "check"), (("check", "--simulate"), "check --simulate")):
        document = asked.document(*words)
        entry = document["designs"][0] if document else {}
        for each in (one for group in ("findings", "met", "undecided") for one in entry.get(group, ())):
            says = each["says"]
            if each.get("rule") == "reserve-too-small":
                yield from _counted(says, each, start, f"{output} json")
            if each.get("rule") == "reservoirs-too-small":
                for name, ratio in re.findall(r"(?:\(|; )(\S+) alone ([\d.]+)", says):
                    yield Printing("ratio", name, f"{output} json", figure(ratio))
                if whole := re.search(r"the vehicle has (.*?\)) for chambers of (.*?\)): ratio ([\d.]+)", says):
                    for question, cell in zip(("reservoirs", "chambers", "ratio"), whole.groups()):
                        yield Printing(question, "the vehicle", f"{output} json", figure(cell))
        for each in entry.get("predicted", ()):
            number = re.fullmatch(r"left after (\d+)", each.get("figure", {}).get("what", ""))
            if number and start is not None:
                yield Printing("left after applications", f"{each['thing']}, {number.group(1)}", f"{output} json",
                               _share(f"{100 * each['figure']['found']:.4f}", start))


def _counted(says: str, each: dict[str, Any], start: float | None, output: str) -> Iterator[Printing]:
    """A count of the stored air by a rule; where it says `at least` its figure is a bound."""
    told = re.search(r"^(\S+): (one full application|\d+ full applications) from (.*?\)) leaves? (at least )?(.*?\))", says)
    if not told or start is None:
        return
    name, times, begin, least, left = told.groups()
    number = 1 if times.startswith("one") else int(times.split()[0])
    if abs(figure(begin)[0].value - start) > 1.0:
        return
    yield Printing("left after applications", f"{name}, {number}", output, figure(left), bound=(least or "").strip())
    remark = each.get("remark", "")
    if given := re.search(r"application (\d+) would get (at least )?(.*?\))", remark):
        yield Printing("given in an application", f"{name}, {given.group(1)}", output, figure(given.group(3)),
                       bound=(given.group(2) or "").strip())
    if plain := re.search(r"at a ratio of ([\d.]+), (.*?\)) would be left", remark):
        yield Printing("ratio", name, output, figure(plain.group(1)))
        yield Printing("left by volumes alone", f"{name}, {number}", output, figure(plain.group(2)))


def _volumes(asked: Asked) -> Iterator[Printing]:
    """Ratios and sums of the volume sheet."""
    tables = asked.tables("sizes")
    for row in tables.get("ratios", ()):
        for question, cell in (("ratio", row["ratio"]), ("reservoirs", f"{row['reservoirs L']} L"),
                               ("chambers", f"{row['chambers L']} L")):
            yield Printing(question, row["serves"], "sizes csv", figure(cell))
        for question in ("reservoirs", "chambers"):
            yield Printing(question, row["serves"], "sizes csv, in3", figure(f"{row[f'{question} in3']} in3"))
    for row in asked.tables("reserve").get("to-half", ()):
        yield Printing("ratio", row["store"], "reserve csv", figure(row["ratio"]))
    if said := re.search(r"All chambers together: (.*?\))", asked.text("sizes")):
        counted = [float(row["counts in3"]) for row in tables.get("chambers", ())]
        yield Printing("sum of chambers", "all", "sizes text", figure(said.group(1)))
        yield Printing("sum of chambers", "all", "sizes csv", (Amount(sum(counted) * 0.016387064, len(counted) * 8.2e-4, "L"),))


def _governor(asked: Asked) -> Iterator[Printing]:
    """Cut-in and cut-out, which many tables say they start from."""
    rows = asked.papers.get("settings", [])
    governors = {row["part"] for row in rows if row["kind"] == "Governor"}
    if len(governors) != 1:
        return
    for row in rows:
        if row["part"] in governors and row["setting"] in ("cut-in", "cut-out"):
            yield Printing(row["setting"], "governor", "papers csv, settings", figure(row["in both units"]))
    for row in asked.papers.get("test-record", ()):
        if row["step"] in ("cut-in", "cut-out"):
            yield Printing(row["step"], "governor", "papers csv, test record", figure(row["expected"]))
    begins = " ".join(asked.text("reserve").split())
    begin = "cut-in" if "- from the governor's cut-in" in begins else "" if " bar stored" in begins else "cut-out"
    for study, pattern, setting in (
            ("charge", r"all of (.{5,30}?\)), the governor's cut-in", "cut-in"),
            ("reserve", r" From (.{5,30}?\)); shares of gauge pressure", begin),
            ("leak-down", r"each for a fall of .*? at (.*?\)) if it leaked", "cut-out"),
            ("water", r"relative humidity, (.*?\)), the compressor at work", "cut-out")):
        told = re.search(pattern, " ".join(asked.text(study).split()))
        if told and setting:
            yield Printing(setting, "governor", f"{study} text", figure(told.group(1)))
    document = asked.document("check")
    for each in document["designs"][0]["met"] if document else ():
        if told := re.fullmatch(r"\S+ cuts (in|out) at (.*?\)).*", each["says"]):
            yield Printing(f"cut-{told.group(1)}", "governor", "check json", figure(told.group(2)))


def _full(asked: Asked) -> Iterator[Printing]:
    """What a reservoir holds when the compressor has stopped: a check, the page, the faults, the test record."""
    document = asked.document("check")
    places = {}
    for each in document["designs"][0]["met"] if document else ():
        if told := re.fullmatch(r"(\S+) is predicted to fill, to at most (.*?\)).*", each["says"]):
            places[told.group(1)] = figure(told.group(2))
    driving = asked.page_charged
    faults = (_found(asked, "faults") or {"faults": []})["faults"]
    full = {tank["name"]: (tank["full"] - 101_325) / 1e3 for tank in faults[0]["in_time"]["tanks"]} if faults else {}
    for name, filled in places.items():
        yield Printing("full", name, "check json", filled, bound="at most")
        space = next((str(port[2]) for port in asked.page_data.get("parts", {}).get(name, {}).get("ports", ())), None)
        if driving and space in asked.page_data["spaces"]:
            yield Printing("full", name, "page", (Amount(driving[asked.page_data["spaces"][space][0]], 0.05, "kPa"),))
        if name in full:
            yield Printing("full", name, "faults json", (Amount(full[name], 5.0, "kPa"),))
    for row in asked.papers.get("test-record", ()):
        if row["step"] == "charge" and row["place"] in places:
            yield Printing("full", row["place"], "papers csv, test record", figure(row["expected"]))


def _response(asked: Asked) -> Iterator[Printing]:
    """Times of application and release: JSON, table, the way's parts, and the pressures over time."""
    found = _found(asked, "respond")
    if not found:
        return
    for what, key in (("apply", "applied"), ("release", "released")):
        for each in found.get(key) or ():
            if each["time"] and each["time"]["value"] is not None:
                time = (Amount(each["time"]["value"], 5e-7, "s"),)
                yield Printing("time", f"{what} {each['name']}", "respond json", time)
            if each["time"] and each["time"]["typical"] is not None:
                time = (Amount(each["time"]["typical"], 5e-7, "s"),)
                yield Printing("time as assumed", f"{what} {each['name']}", "respond json", time)
                if each.get("path"):
                    legs = sum(leg["costs"] for leg in each["path"]["legs"])
                    amount = (Amount(legs, 5e-7, "s"),)
                    yield Printing("time as assumed", f"{what} {each['name']}", "respond json, its legs", amount)
    rows = asked.tables("respond")
    for row in rows.get("response", ()):
        if re.fullmatch(r"[\d.]+", row["time s"]):
            yield Printing("time", f"{row['done']} {row['place']}", "respond csv", figure(f"{row['time s']} s"))
    legs_of: dict[tuple[str, str], list[float]] = {}
    for row in rows.get("ways", ()):
        legs_of.setdefault((row["done"], row["to"]), []).append(float(row["costs ms"]))
    for (what, places), costs in legs_of.items():
        for place in places.split(", "):
            rounded = (Amount(sum(costs) / 1e3, 5e-4 * len(costs), "s"),)
            yield Printing("time as assumed", f"{what} {place}", "respond csv, ways", rounded)
    yield from _crossings(asked, found)


def _crossings(asked: Asked, found: dict[str, Any]) -> Iterator[Printing]:
    """When the pressures over time pass the pressure that is asked for."""
    path = asked.folder / "pressures.csv"
    asked.say("respond", "--pressures", str(path), "--force")
    if not path.is_file() or found["target"] is None:
        return
    lines = path.read_text(encoding="utf-8").split("\n")
    heads = [head.strip('"') for head in lines[0].split('","')]
    rows = [line.split(",") for line in lines[1:] if line]
    for each in found.get("applied") or ():
        own = (each["name"], f"{each['name']}.11", f"{each['name']}.service")
        head = next((name for name in heads if name.split(" [")[0] in own), "")
        if not head or not each["time"] or each["time"]["typical"] is None:
            continue
        place, level = heads.index(head), (found["target"] - AIR) / 1e5
        runs = [row for row in rows if row[0] == rows[0][0]]
        for before, after in pairwise(runs):
            low, high = float(before[place]), float(after[place])
            if low < level <= high:
                first, second = float(before[1]), float(after[1])
                moment = first + (level - low) / (high - low) * (second - first)
                yield Printing("time as assumed", f"apply {each['name']}", "respond --pressures", (Amount(moment, 1e-3, "s"),))
                break


def _trials(asked: Asked) -> Iterator[Printing]:
    """Each expectation of each trial: met or not, and what came."""
    found = _found(asked, "run") or ()
    for trial in found:
        for number, each in enumerate(trial["outcomes"], 1):
            place = f"{trial['trial']} {number}"
            yield Printing("expected", place, "run json", words=str(bool(each["met"])))
    for output, rows in (("run csv", asked.tables("run").get("trials", ())), ("papers csv", asked.papers.get("trials", ()))):
        seen: dict[str, int] = {}
        for row in rows:
            seen[row["trial"]] = number = seen.get(row["trial"], 0) + 1
            yield Printing("expected", f"{row['trial']} {number}", output, words=str(row["outcome"].startswith("met")))
            yield Printing("came", f"{row['trial']} {number}", output, amounts(row["predicted"]), exact=True)
    shown: dict[str, int] = {}
    for row in asked.page_rows[0].get("Trials of the design", ()):
        shown[row[0]] = number = shown.get(row[0], 0) + 1
        met = row[3].lstrip("\u25cf\u25d0\u25b2 ").startswith("met")
        yield Printing("expected", f"{row[0]} {number}", "page", words=str(met))
        yield Printing("came", f"{row[0]} {number}", "page", amounts(row[4]), exact=True)


def _charging(asked: Asked) -> Iterator[Printing]:
    """Times to fill, and the share of the time that the compressor works."""
    found = _found(asked, "charge")
    rows = asked.tables("charge")
    if not found:
        return
    for row in rows.get("filling", ()):
        each = next((one for one in found["filled"] if one["name"] == row["reservoir"]), None)
        for column, key in ((name, "share" if not name.startswith("100") else "whole") for name in row if name.endswith("% s")):
            if each and row[column]:
                yield Printing(f"filled {key}", row["reservoir"], "charge csv", figure(f"{row[column]} s"))
                yield Printing(f"filled {key}", row["reservoir"], "charge json", (Amount(each[key], 5e-5, "s"),))
    if found.get("cycle"):
        yield Printing("duty", "compressor", "charge json", (Amount(100 * found["cycle"]["duty"], 0.0, "%"),))
    for row in rows.get("duty", ()):
        if row["what"] == "share of the time that it works":
            yield Printing("duty", "compressor", "charge csv", figure(row["predicted"]))
    water = " ".join(asked.text("water").split())
    if told := re.search(r"the compressor at work (\d+ %) of the time, as predicted", water):
        yield Printing("duty", "compressor", "water text", figure(told.group(1)))
    elif told := re.search(r"the compressor at work (\d+ %) of the time", water):
        yield Printing("duty", "compressor", "water text", figure(told.group(1)))


def _leaking(asked: Asked) -> Iterator[Printing]:
    """What happens as the air leaks away: the study, its JSON, the test record."""
    found = _found(asked, "leak-down")
    if not found:
        return
    for moment in found["moments"]:
        yield Printing("lowest as it leaks", moment["what"], "leak-down json", pascals(moment["level"][0]))
    for row in asked.tables("leak-down").get("leaking", ()):
        yield Printing("lowest as it leaks", row["what happens"], "leak-down csv", figure(row["lowest reservoir"]))
    for row in asked.papers.get("test-record", ()):
        if row["step"] == "leak-down":
            yield Printing("lowest as it leaks", row["place"], "papers csv, test record", figure(row["expected"]))


@cache
def _kinds() -> dict[tuple[str, str], str]:
    """The typical value that the list of kinds gives to each setting, by the kind's title."""
    document = json.loads(said("kinds", "--format", "json")[1])
    return {(kind["title"], setting["name"]): setting["typical"] for kind in document["kinds"] for setting in kind["settings"]}


def _typical(asked: Asked) -> Iterator[Printing]:
    """Values that were assumed, against the list of kinds, and those that each study and verdict says it leans on."""
    kind_of = {name: about["kind"] for name, about in asked.page_data.get("parts", {}).items()}
    for row in asked.papers.get("assumptions", ()):
        place = f"{row['part']} {row['setting']}"
        yield Printing("taken as", place, "papers csv", amounts(row["taken as"]), exact=True)
        typical = _kinds().get((kind_of.get(row["part"], ""), row["setting"]))
        if typical and amounts(typical):
            yield Printing("taken as", place, "kinds json", amounts(typical), exact=True)
    for words in (("check",), ("check", "--simulate")):
        document = asked.document(*words)
        for each in document["designs"][0]["assumed"] if document else ():
            yield Printing("taken as", f"{each['thing']} {each['setting']}", f"{' '.join(words)} json", amounts(each["value"]),
                           exact=True)
    for study in ("charge", "respond", "reserve", "leak-down"):
        found = _found(asked, study)
        for each in (found or {}).get("assumed", ()):
            for part in each["part"].split(", "):
                yield Printing("taken as", f"{part} {each['setting']}", f"{study} json", amounts(each["value"]), exact=True)
