"""Reasons offered, by the kind of entry or work they are for; words of one's own are always offered beside them."""

from __future__ import annotations

from splitline.record.entry import Entry, Measured, SetAside, Signed, Tightened

WRONG: dict[type[Entry], tuple[str, ...]] = {
    Tightened: (
        "wrong stud",
        "not done after all",
        "wrong pass",
        "tool slipped",
        "wrong pressure set",
        "entered twice",
    ),
    Measured: ("wrong value", "wrong unit", "wrong place or stud", "gauge not zeroed", "entered twice"),
    Signed: ("wrong name", "not done after all", "signed too early", "wrong step", "entered twice"),
    SetAside: ("wrong stud", "can be tightened after all", "wrong reason", "entered twice"),
}
WRONG_ACT = {
    "set-up": (
        "wrong lubricant",
        "wrong batch",
        "wrong tool or serial",
        "wrong calibration date",
        "put right before any pull",
    ),
    "count-in": ("counted wrong", "wrong item", "entered twice"),
    "part": ("wrong part", "wrong batch", "wrong cure date", "not fitted after all", "entered twice"),
    "count-out": ("counted wrong", "found and counted again", "wrong item", "entered twice"),
    "tag": ("wrong tag", "sling changed", "wrong leg", "entered twice"),
    "trial": ("not done after all", "wrong name", "load set down again", "entered twice"),
    "mounting": ("wrong name", "not done after all", "signed too early", "done again from here", "entered twice"),
}
WRONG_ANY = ("wrong words", "wrong name", "entered twice")
ASIDE = ("galled", "out of reach", "thread damaged", "stud turns with the nut", "nut missing", "tool does not fit")
DANGER_FIRST = "DANGER: make safe first"  # first in every list; it stops every screen of the plan
STOPPED = (DANGER_FIRST, "shift ends", "break", "tool failed", "waiting for a part")
STOPPED_LIFT = (DANGER_FIRST, "wind or weather", "shift ends", "rigging to be changed", "crane failed")
LOST = ("oil leaks", "pump failed")  # a hold that was running is broken by these too
STOPPED_FIT = (DANGER_FIRST, *LOST, "shift ends", "waiting for a part")
SET_DOWN = (
    "out of level",
    "a leg slack",
    "a sling out of its seat",
    "heavier than planned",
    "brake slips",
    "hook off centre",
)
BACK = ("stud replaced", "nut replaced", "thread mended", "tool fits now")
ACCEPT = ("checked on the machine", "maker agrees", "by drawing", "will be replaced later")
