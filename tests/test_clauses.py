"""Standards as data: every value against the document it is from, what is said of a memory, and nothing said twice."""

import re
from collections import Counter

import pytest

from circuit.clauses import ALWAYS, GRADES, VAGUE, Clause, clause, rule_set, set_names
from circuit.judging.limits import UNITS
from circuit.model.circuit import CLASSES, COMBINATION, POWERED, TOWED
from circuit.report.explain import explain
from circuit.tables import stroke_limits, table

EVERY = [one for name in set_names() for one in rule_set(name).clauses]

APPLICATION = {"start_psi": 100, "to_psi": 60, "vessel_in3": 50, "rig_l_s_bar": 6.3}
RELEASE = {"start_least_psi": 110, "from_psi": 95, "to_psi": 5, "vessel_in3": 50, "rig_l_s_bar": 6.3}
"""49 CFR 571.121 S5.3.3 and S5.3.4; the rig's valve is fitted to a curve from memory."""
SIMULATOR = {"start_kpa": 650, "from_kpa": 65, "share": 0.75, "application_s": 0.2, "simulator_l": 30, "rig_l_s_bar": 1.94,
             "rig_pipe_cm3": 385}
TOWING = {"start": "cut-in", "share": 0.75, "application_s": 0.2, "pipe_length_m": 2.5, "pipe_bore_mm": 13,
          "without_pipe": ["tractor"], "supply_vessel_cm3": 385, "coupling_shares": [0.10, 0.75]}
"""(EU) 2015/68 Annex III 2.4 to 2.6 and 4; the orifice of the simulator is fitted to its calibration."""
US_121 = {
    "S5.1.1": {"from_psi": 85, "to_psi": 100, "within_s": 25, "ratio": 12},
    "S5.1.1.1": {"cut_in_psi": 100, "cut_in_bus_psi": 85},
    "S5.1.2.1": {"ratio": 12},
    "S5.1.2.3": {"keeps_psi": 60},  # the level of S5.1.5, our reading
    "S5.1.2.2": {"least_psi": 500, "times_cut_out": 5},
    "S5.1.5": {"warning_psi": 60},
    "S5.1.7": {"lamp_psi": 6},
    "S5.2.1.1": {"ratio": 8},
    "S5.2.1.2": {"least_psi": 500},
    "S5.3.3": APPLICATION | {"powered_s": 0.45, "towing_trailer_s": 0.50, "dolly_s": 0.55, "trailer_s": 0.60},
    "S5.3.3.1(b)": APPLICATION | {"powered_s": 0.35, "towing_trailer_s": 0.50, "dolly_s": 0.55, "or_fastest_chamber": True},
    "S5.3.4": RELEASE | {"powered_s": 0.55, "towing_trailer_s": 1.00, "dolly_s": 1.10, "trailer_s": 1.20},
    "S5.3.4.1(b)": RELEASE | {"powered_s": 0.75, "towing_trailer_s": 1.00, "dolly_s": 1.10},
    "S5.3.5": {"low_psi": 1, "low_up_to_psi": 20, "middle_psi": 2, "middle_up_to_psi": 40, "high_share": 0.05,
               "start_psi": 100, "empties_from_psi": 95, "vessel_in3": 50, "hole_in": 0.0180},
    "S5.6.3.3": {"start_psi": 100, "vessel_in3": 50, "within_s": 3},
    "S5.6.5": {"start_psi": 100, "trailer_psi": 70, "looked_s": 3, "vessel_in3": 50},
    "S5.6.6": {"start_psi": 100, "wait_s": 30, "looked_s": 3, "vessel_in3": 50},
    "S5.7.1": {"signal_lines": "are a matter of reading where they only carry the pedal's signal on, to a trailer or a switch"},
    "S5.7.2": {"start_psi": 100},
    "S5.8.2": {"supply_psi": 70, "rig_psi": 100, "rig_in3": 1000},
    "S5.8.3": {"supply_psi": 70, "rig_psi": 100},
}
"""49 CFR 571.121, state through 87 FR 34808 (8 Jun 2022)."""
US_OTHER = {
    "393.43(a)": {"least_psi": 20, "most_psi": 45},  # 49 CFR 393.43
    "393.43(b)": {"least_psi": 20, "most_psi": 45},
    "393.43(d)": {"start_psi": 100, "stays_min": 15},
    "393.47(e)": {"applied_from_psi": 80, "applied_to_psi": 90, "share_of_stroke": 0.8},  # 49 CFR 393.47(e), (e)(2)
    "393.50(a)": {"ratio": 12},  # 49 CFR 393.50
    "393.50(a) (trailer)": {"ratio": 8},
    "393.50(b)": {"applications": 1, "share_of_start": 0.70},
    "393.50(b) (older)": {"applications": 1, "share_of_start": 0.70},
    "393.51(c)(1)": {"warning_psi": 60},  # 49 CFR 393.51
    "393.51(c)(2)": {"warning_psi": 55, "share_of_cut_out": 0.5},
    "570.57-reserve": {"applications": 1, "share_of_start": 0.80},  # 49 CFR 570.57: a drop of 20 % at most
    "570.57-warning": {"warning_psi": 60},
    "570.57-warning (older)": {"warning_psi": 50},
    "570.57-governor": {"cut_in_psi": 80, "cut_in_bus_psi": 80},
    "570.57-cut-out": {"cut_out_psi": 135},
    "570.57-recovery": {"applications": 1, "within_s": 45},
    "570.57-recovery (older)": {"applications": 1, "within_s": 30},
    "570.57-leak": {"released_psi_min": 2, "applied_psi_min": 3, "further_psi_min": 1},
    "5.3-build-up": {"from_psi": 85, "to_psi": 100, "within_s": 45},  # model CDL manual 5.3
    "5.3-spring-brakes": {"least_psi": 20, "most_psi": 45},
}
EU = {
    "Annex I 2.2.2.13": {"start_kpa": 650, "falls_kpa_s": 100, "by_kpa": 200},
    "Annex I 2.2.2.14": {"keeps_kpa": 0.8 * 650},
    "Annex III 4.5.1": SIMULATOR | {"within_s": 0.4, "rounded_s": 0.1},  # 1.3
    "Annex IV A 1.3.1": {"applications": 8, "share_of_first": 0.5, "start_kpa": 850, "demand_kpa": 750},
    "Annex V 2.5": {"releases": 3, "trailer_start_kpa": 750},
    "Annex V 2.7": {"applications": 4, "start_kpa": 700},
    "Annex V 2.12.1": {"start_kpa": 650, "reserve_kpa": 280},
    "Annex VI 2.2": {"releases": 3, "start_kpa": 650},
}
"""(EU) 2015/68, consolidated text of 15 Jun 2025."""
R13 = {
    "5.2.1.5.2": {"applications": 4},  # (EU) 2015/68 Annex I 2.2.1.4.2
    "5.2.1.13.1": {"applications": 4},  # UN Regulation No. 13 5.2.1.13.1
    "5.2.1.18.3": {"brakes_itself_kpa": 150},
    "5.2.1.18.4.1": {"application_s": 0.2, "pipe_bore_mm": 13, "pipe_length_m": 2.5, "supply_kpa": 150,
                     "within_s": 2},  # (EU) 2015/68 Annex I 2.2.1.17.2.1
    "5.2.1.18.4.2": {"falls_kpa_s": 100, "by_kpa": 200},  # 2.2.1.17.2.2
    "5.2.2.12 (supply line)": {"start_kpa": 650, "falls_kpa_s": 100, "by_kpa": 200},  # 2.2.2.13
    "5.2.2.14.1": {"keeps_kpa": 0.8 * 650},  # 2.2.2.14
    "5.2.2.16.1": {"applications": 4},  # Annex XII 5.2.4.1
    "Annex 10 3.1.3.1": {"least_kpa": 650, "most_kpa": 850},  # Annex II Appendix 1 3.1.3.1
    "Annex 10 3.1.3.4": {"supply_kpa": 700},  # 3.1.3.4
    "Annex 6 2.4": TOWING | {"within_s": 0.6, "rounded_s": 0.1},  # Annex III 2.4, 1.3
    "Annex 6 2.6": TOWING | {"within_s": [0.2, 0.4], "rounded_s": 0.1},  # Annex III 2.5, 2.6, 1.3
    "Annex 6 2.7": {"application_s": 0.2, "pipe_bore_mm": 13, "pipe_length_m": 2.5, "supply_kpa": 150,
                    "within_s": 2},  # Annex III 2.7
    "Annex 6 3.5": SIMULATOR | {"within_s": 0.4, "rounded_s": 0.1},  # 4.2, 1.3
    "Annex 7 A 1.2.1": {"applications": 8},  # Annex IV A 1.2.1
    "Annex 7 A 1.2.2.3": {"applications": 8, "share_of_first": 0.5, "vessel_l": 0.5},  # 1.2.2.3
    "Annex 7 A 1.3.1": {"applications": 8, "share_of_first": 0.5, "start_kpa": 850, "demand_kpa": 750},  # 1.3
    "Annex 7 A 2.4": {"share": 0.65, "share_min": 3, "whole_min": 6, "share_towing_min": 6, "whole_towing_min": 9,
                      "trailer_bar_l_t": 20},  # 2.2, 2.3.3, 2.4
    "Annex 7 A 2.5": {"auxiliary_share": 0.20, "whole_min": 8, "whole_towing_min": 11, "trailer_bar_l_t": 20},  # 2.5
    "Annex 8 2.4": {"releases": 3, "trailer_start_kpa": 750},  # Annex V 2.5
    "Annex 8 2.5 (M, N)": {"share": 0.8},  # 2.6
    "Annex 8 2.5 (O)": {"applications": 4, "start_kpa": 700},  # 2.7
    "Annex 8 2.7": {"brakes_itself_kpa": 150},
    "Annex 8 2.8": {"start_kpa": 650, "reserve_kpa": 280},  # 2.12
    "Annex 9 2": {"locks_kpa": 400, "releases": 3, "start_kpa": 650},  # UN Regulation No. 13 Annex 9
}
AUSTRALIA = {
    "r334(1)(a)": {"share_of_cut_out": 0.8, "within_min": 5},  # WA Road Traffic (Vehicles) Regulations 2014 r.334
    "r334(1)(b)": {"applications": 5, "share_of_cut_out": 0.5},
    "low-air warning": {"warning_kpa": 420},  # an article on the Australian roadworthiness check
    "ADR 35 and 38, storage": {"ratio": 12, "ratio_trailer": 8},  # remembered only
}
NEW_ZEALAND = {
    "5-2 items 2 and 3": {"applications": 5, "within_s": 90},  # NZ VIRM, heavy vehicle specialist 5-2
    "5-2 item 4": {"applications": 5, "within_s": 90, "from_warning_min": 3},
    "8-1 parking brake": {"wheel_share": 0.4},  # NZ VIRM in-service 8-1
    "8-2 parking brake": {"wheel_share": 0.5},  # in-service 8-2, the brake code
    "8-1 gauge": {"one_will_do": True},  # in-service 8-1 item 10
    "5-1 emergency brake": {"wheel_share": pytest.approx(1 / 3, abs=1e-4)},  # NZ VIRM trailers 5-1
}
INDIA = {"r97(1)": {"axles_of_two": 1, "axles_of_more": 2}}
"""Central Motor Vehicles Rules 1989 r.97(1)."""
EN_286_2 = {
    "scope, volume": {"volume_l": 150},  # EN 286-2:1992 and FprEN 286-2:2023, scope
    "scope, pressure": {"pressure_bar": 30},
    "scope, energy": {"least_bar_l": 50, "most_bar_l": 1500},
}
PRACTICE = {"governor-gap": {"least_gap_psi": 10, "most_gap_psi": 35}, "protection-valve-near": {"line_m": 1.5},
            "low-air-warned": {"warning_psi": 55, "share_of_cut_out": 0.5}}  # as 49 CFR 393.51(c)(2)
PUBLISHED = {
    f"{name}/{number}": values
    for name, listed in (("us-federal", US_121 | US_OTHER), ("eu-2015-68", EU), ("un-r13", R13),
                         ("australia", AUSTRALIA), ("new-zealand", NEW_ZEALAND), ("india", INDIA), ("en-286-2", EN_286_2),
                         (ALWAYS, PRACTICE))
    for number, values in listed.items()
}


def test_there_are_sets():
    assert {"us-federal", "un-r13", "eu-2015-68", ALWAYS} < set(set_names()) and set_names()[-1] == ALWAYS
    assert len(EVERY) > 150


@pytest.mark.parametrize("key", [one.key for one in EVERY if one.values])
def test_values_are_those_of_the_document(key: str):
    assert {name: value for name, value in clause(key).values.items() if name != "rig_note"} == PUBLISHED[key]


def test_no_published_value_lost_its_clause():
    assert set(PUBLISHED) == {one.key for one in EVERY if one.values}


def test_stroke_limits_are_those_of_393_47():
    """49 CFR 393.47(e), clamp type, inches: standard, long stroke, and long stroke of 3 in."""
    known = {6: None, 9: (1.375, None, None), 12: (1.375, 1.75, None), 16: (1.75, 2, None), 20: (1.75, 2, 2.5),
             24: (1.75, 2, 2.5), 30: (2, 2.5, None), 36: (2.5, None, None)}
    found = {number: tuple(None if limit is None else round(limit / 0.0254, 4) for limit in limits)
             for number, limits in stroke_limits().items()}
    assert found == {number: limits for number, limits in known.items() if limits}


# --- what is said once, and how it is known ------------------------------------------------------------------------


def test_nothing_is_said_twice():
    assert [text for text, times in Counter(one.asks for one in EVERY).items() if times > 1] == []
    assert [key for key, times in Counter(one.key for one in EVERY).items() if times > 1] == []


def test_every_clause_names_vehicles_that_there_are():
    for one in EVERY:
        assert one.vehicles and set(one.vehicles) <= {*CLASSES, COMBINATION}, one.key


def test_groups_stand_for_classes():
    assert clause("un-r13/5.2.1.7").vehicles == POWERED and clause("un-r13/5.2.2.3").vehicles == TOWED


WORDS = {"start", "without_pipe", "coupling_shares", "or_fastest_chamber", "rig_note", "signal_lines", "one_will_do"}
"""What a procedure says without a unit."""


def test_values_name_their_unit():
    unit = re.compile(rf"_({'|'.join(UNITS)}|bar_l|bar_l_t|first|share|start|stroke|cut_out)$")
    bare = {"ratio", "ratio_trailer", "applications", "releases", "share", "share_of_first", "times_cut_out", "axles_of_two",
            "axles_of_more"}
    for one in EVERY:
        for name in one.values:
            assert name in bare or name in WORDS or unit.search(name), f"{one.key} {name}"


def memories() -> list[Clause]:
    return [one for one in EVERY if one.grade]


def test_a_memory_says_so_wherever_it_is_printed():
    assert len(memories()) >= 4
    for one in memories():
        assert one.basis == "from memory" and GRADES[one.grade] in one.known
        assert f"from memory, {GRADES[one.grade]}" in " ".join(explain(one.key).split())


def test_the_vaguest_memory_asks_for_nothing():
    vague = [one for one in EVERY if one.grade in VAGUE]
    assert vague
    for one in vague:
        assert one.is_too_vague
        assert "nothing passes or fails by it" in explain(one.key)


def test_clauses_of_un_r13_say_that_their_numbers_are_remembered():
    for one in rule_set("un-r13").clauses:
        assert "from memory" in one.edition or one.basis in ("read", "from memory"), one.key


def test_topics_name_clauses_that_there_are():
    keys = {one.key for one in EVERY}
    topics = table("topics")["topic"]
    assert len(topics) >= 10
    for topic in topics:
        assert set(topic["clauses"]) <= keys, topic["title"]
        assert len({key.split("/")[0] for key in topic["clauses"]}) > 1, topic["title"]
