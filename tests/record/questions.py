"""What a client's inspector asks of a close-up, as data: the question, and where the answer stands on each face.

``rows``: what the fact's row has in CSV (column titles) and JSON (keys); ``answer``: the column or key that holds the answer, and
what it must say; ``sheet``: the dossier's sheet, and the words on it. ``{name}`` is an entry of the record by its name in
``tests/record/rich.py``.
"""

from __future__ import annotations

from dataclasses import dataclass

FRONT, WORK, WRONG, EVERY = "As built", "Order of work, as done", "Deviations, remarks, signatures", "Every entry"
ITEMS = "Lifts, clearances, insertions and fits, as done"
HEAD_SHEET = "Discharge head cover to casing, as rev C"


@dataclass(frozen=True)
class Question:
    """One of them."""

    text: str
    sheet: str
    words: str
    rows: dict[str, str]
    answer: tuple[str, str]


TRACE = "Tools, parts, open points"

QUESTIONS = (
    Question("What was stud 1 of the discharge head set to in the last pass?", HEAD_SHEET, "505 bar",
             {"kind": "tightened", "item": "discharge-head", "pass": "3", "bolt": "1"}, ("shown", "505 bar")),
    Question("By which plan revision was it pulled?", HEAD_SHEET, "| pass 3 | C | 23 of 24 | closed SHORT of 5 |",
             {"kind": "tightened", "item": "discharge-head", "pass": "3", "bolt": "1"}, ("revision", "C")),
    Question("By whom?", HEAD_SHEET, "Tomas",
             {"kind": "tightened", "item": "discharge-head", "pass": "3", "bolt": "1"}, ("done by", "Tomas")),
    Question("With which tool, by serial?", EVERY, "tool wrench W2; serial HW-0312",
             {"kind": "tightened", "item": "discharge-head", "pass": "3", "bolt": "1"}, ("serial", "HW-0312")),
    Question("Was any pull set otherwise than its plan told?", WRONG, "screw 8 in 2 set otherwise than told",
             {"kind": "deviation", "act": "set otherwise than told"}, ("entry", "{otherwise}")),
    Question("Which studs are below target, and who accepted that?", FRONT, "closed SHORT: without 5, below target",
             {"kind": "accepted", "act": "concession"}, ("done by", "Petra")),
    Question("Why was that stud set aside?", WRONG, "galled <b>",
             {"kind": "set aside", "entry": "{aside}"}, ("reason", "galled <b>")),
    Question("What became of the other stud set aside?", WRONG, "tightened later, entry {tightened later}",
             {"kind": "set aside", "entry": "{later}"}, ("outcome", "tightened later, entry {tightened later}")),
    Question("Which hold was signed by who did the work?", WRONG, "hold signed by Tomas, who did the work",
             {"kind": "deviation", "act": "hold signed on own work"}, ("entry", "{own hold}")),
    Question("Which witness did not come?", WORK, "machinery engineer: called and not present (Ines)",
             {"kind": "step", "step": "casing-bore"}, ("witness said", "called and not present (Ines)")),
    Question("Which tool was out of calibration on the day, since when?", WRONG,
             "calibration of wrench W1 HW-0311 lapsed on 2027-02-01",
             {"kind": "set-up", "entry": "{lapsed}"}, ("calibration due", "2027-02-01")),
    Question("Who accepted that, and was it their own entry?", WRONG, "of their own entry",
             {"kind": "accepted", "entry": "{own acceptance}"}, ("of own work", "yes")),
    Question("Was a second batch of lubricant used on a joint?", FRONT, "second batches of lubricant | 1",
             {"kind": "set-up", "item": "discharge-head", "pass": "2"}, ("batch", "L-78")),
    Question("Which hold under pressure was broken, at which mounting step, why?", WRONG,
             "hold of mounting step 4 broken: pump failed",
             {"kind": "note", "measured": "", "topic": "hold broken"}, ("part", "4")),
    Question("What was the total float as found, and as left?", ITEMS, "▲ 9.10 mm | 8.00 mm",
             {"kind": "measured", "item": "total-float", "measured": "as left"}, ("as typed", "8.00 mm")),
    Question("Which instrument read it?", ITEMS, "DM-3, Ines",
             {"kind": "measured", "item": "total-float", "measured": "as left"}, ("instrument", "DM-3")),
    Question("What did the struck set-up say?", WRONG, "lubricant copper paste; batch C-3",
             {"kind": "wrong entry", "entry": "{lube strike}"}, ("said", "lubricant copper paste; batch C-3")),
    Question("What was entered afterwards from paper, by whom?", EVERY, "by Ines",
             {"kind": "tightened", "entry": "{late}"}, ("entered by", "Ines")),
    Question("How many back-up rings were counted out?", EVERY, "counted out; count 0; step o-rings; item back-up-ring",
             {"kind": "counted out", "item": "back-up-ring"}, ("count", "0")),
    Question("What did the new revision change?", FRONT, "was B, now C",
             {"kind": "plan", "entry": "{plan C}"}, ("changes", "was B, now C")),
)  # fmt: skip

TRACED = (
    Question("Which wrench pulled stud 15 of a pair?", EVERY, "pulled with HW-0312",
             {"kind": "struck tightened", "entry": "{pair}", "bolt": "15"}, ("pulled with", "HW-0312")),
    Question("Why was another batch opened on the discharge head?", WRONG,
             "batch L-78 of molybdenum disulfide paste in 2, L-77 before: the tin was empty",
             {"kind": "set-up", "item": "discharge-head", "pass": "2"}, ("reason", "the tin was empty")),
    Question("Was wrench W1 in calibration on the days it was used?", TRACE, "LAPSED on 2027-03-01",
             {"kind": "tool register", "serial": "HW-0311", "calibration due": "2027-02-01"}, ("on the day", "LAPSED on 2027-03")),
    Question("Which instrument, by serial, read the float, and until when is it calibrated?", TRACE,
             "depth micrometer | DM-8 | instrument | 2027-02-20 | ▲ LAPSED on 2027-03-01",
             {"kind": "measured", "serial": "DM-8"}, ("calibration due", "2027-02-20")),
    Question("Which seals were fitted, of which batch?", TRACE, "Casing O-ring | 3 | OR-5512 | 2026-06-10",
             {"kind": "part used", "item": "o-ring-casing"}, ("batch", "OR-5512")),
    Question("When were they cured?", TRACE, "2026-06-10",
             {"kind": "part used", "item": "o-ring-casing"}, ("cure date", "2026-06-10")),
    Question("Which sling hung in leg 1 of the rotor lift?", EVERY, "tag; role leg.1.tag; text SL-104",
             {"kind": "tag", "role": "leg.1.tag"}, ("text", "SL-104")),
    Question("What did leg 1 pull?", EVERY, "measured leg load; where leg 1; value 31.2 kN",
             {"kind": "measured", "where": "leg 1"}, ("as typed", "31.2 kN")),
    Question("How many installation plates went in?", TRACE, "counted in | Installation plates of the gas seal cartridges | 4",
             {"kind": "counted in", "item": "seal-plates"}, ("count", "4")),
    Question("What is still to be done, by whom, by when?", FRONT,
             "open point, entry {open point}: guard of the coupling to be painted (Olu, by 2027-03-20)",
             {"kind": "open point", "state": "open"}, ("owner", "Olu")),
    Question("Who closed the other open point?", TRACE, "closed by Ines, entry {point closed}",
             {"kind": "open point", "state": "closed"}, ("closed by", "Ines")),
    Question("At which device was an entry made?", EVERY, "at tablet T2 at crew-hut",
             {"kind": "tightened", "item": "discharge-head", "pass": "3", "bolt": "1"}, ("device", "tablet T2 at crew-hut")),
    Question("As whom was the lapsed instrument accepted?", WRONG, "Petra (machinery engineer)",
             {"kind": "deviation", "act": "calibration", "entry": "{lapsed instrument}"}, ("role", "machinery engineer")),
    Question("What did the supervisor see when signing the first hold?", WRONG,
             "on: ready: looked at and found as drawn",
             {"kind": "signed", "act": "hold", "step": "ready"}, ("signed on", "looked at and found as drawn")),
)  # fmt: skip
