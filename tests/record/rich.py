"""A rich record of the demo plan: two crews, a revision in the middle, strikes, studs set aside, broken holds, absent witnesses,
late paper, a batch change, a lapsed calibration. Invented names. What went wrong on purpose stands in ``KNOWN``.
"""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path
from typing import Any

from splitline.assess.assessment import assess
from splitline.library.store import Library
from splitline.plan.read import read_text
from splitline.record.entry import Accepted, Entry, Measured, Note, SetAside, Signed, Tightened, WrongEntry
from splitline.record.from_plan import job_of
from splitline.record.journal import Journal
from splitline.record.plans import Saved, put_plan
from splitline.record.progress import brought_back, concession
from tests.record.helpers import START, Ticking, uid

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
HEAD, BUNDLE, SUCTION = "discharge-head", "bundle-joint", "suction-head"
PASTE = "molybdenum disulfide paste"
CREW = {"Ines": ("wrench W1", "HW-0311"), "Tomas": ("wrench W2", "HW-0312")}


class Rich:
    """Writes the record act by act."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / "k410.toml"
        shutil.copy(DEMO, self.path)
        self.clock = Ticking()
        self.journal = Journal(self.path, clock=self.clock, sync=lambda fd: None, device="tablet T2 at crew-hut")
        self.known: dict[str, int] = {}
        self._read()

    def _read(self) -> None:
        self.text = self.path.read_text("utf-8")
        plan = read_text(self.text, self.path).plan
        found = assess(plan, Library.load(self.path.parent), START.date())
        orders = {each.id: each.results.get("order_steps", ()) for each in found.of_kind("joint")}
        self.job = job_of(plan, orders)
        self.found = found

    def stand(self, revision: str, person: str) -> int:
        stored = put_plan(
            self.journal,
            self.text,
            person,
            "K-410",
            revision,
            Saved("M. Planner", "planner7", START - dt.timedelta(days=1)),
        )
        assert stored is not None
        return stored.number

    def put(self, entry: Entry, name: str = "") -> int:
        self.clock.forward(minutes=2)
        number = self.journal.append(entry).number
        if name:
            self.known[name] = number
        return number

    def sign(self, act: str, step: str, person: str, **more: Any) -> int:
        record = self.journal.record
        if act == "hold":
            more = {"count": record.count, "head": record.head} | more
        return self.put(Signed(uid=uid(), done_by=person, act=act, step=step, **more))

    def done(self, step: str, hold: str = "Petra", witness: str = "Wim", start: bool = True) -> None:
        """A step that is no joint, with whatever signatures it wants."""
        plan = next(each for each in self.job.steps if each.id == step)
        if start:
            self.sign("start", step, "Ines")
        if plan.witness:
            self.sign("witness", step, witness, role=plan.witness)
        self.sign("done", step, "Ines")
        if plan.hold:
            self.sign("hold", step, hold, role=plan.hold, seen=f"{step}: looked at and found as drawn")

    def set_up(self, joint: str, pass_: str, person: str, tool: str, serial: str, **more: Any) -> int:
        data: dict[str, Any] = {"lubricant": PASTE, "batch": "L-77", "calibration_due": dt.date(2028, 3, 1)} | more
        return self.put(
            Signed(
                uid=uid(),
                done_by=person,
                act="set-up",
                joint=joint,
                pass_=pass_,
                tool=tool,
                serial=serial,
                crew=person,
                **data,
            )
        )

    def tightened(
        self,
        joint: str,
        pass_: str,
        place: int,
        bolts: tuple[int, ...],
        person: str,
        tool: str,
        serial: str,
        **more: Any,
    ) -> Tightened:
        whole = self.job.joint(joint)
        assert whole is not None
        plan = next(each for each in whole.passes if each.name == pass_.replace("round 2", "round 1"))
        result = self.found.find("joint", joint)
        assert result is not None
        assert result.settings is not None
        assert plan.share is not None
        told = result.settings.of_bolt(bolts[0], plan.share, tool, plan.finish)
        values = {"torque": told.torque} | (
            {"pressure": told.value} if told.by == "pressure" else {"torque": told.value}
        )
        data = {"batch": "L-77", "lubricant": PASTE, "shown": told.text("SI"), "library": "1f"} | values | more
        return Tightened(
            uid=uid(), done_by=person, joint=joint, pass_=pass_, step=place, bolts=bolts, share=plan.share, tool=tool,
            serial=serial, crew=person, **data,
        )  # fmt: skip

    def read(
        self, item: str, what: str, value: float, quantity: str = "length", person: str = "Ines", **more: Any
    ) -> int:
        return self.put(
            Measured(uid=uid(), done_by=person, item=item, what=what, value=value, quantity=quantity, **more)
        )


def rich(folder: Path) -> Rich:
    """The record, whole."""
    made = Rich(folder)
    made.known["plan B"] = made.stand("B", "Ines")
    _before(made)
    _bundle(made)
    _head_first(made)
    _revise(made)
    _head_rest(made)
    _after(made)
    return made


def _before(made: Rich) -> None:
    made.done("ready", hold="Petra")
    made.sign("witness-absent", "casing-bore", "Ines", role="machinery engineer")
    made.sign("done", "casing-bore", "Ines")
    made.done("lower-half", start=False)
    made.put(
        Note(
            uid=uid(),
            done_by="Petra",
            entered_by="Ines",
            topic="plan accepted",
            item="rotor-lift",
            checks=("lift.crane",),
            text="radius checked on the pad",
        )
    )
    made.put(Signed(uid=uid(), done_by="Ines", act="tag", step="rotor-in", role="leg.1.tag", statement="SL-104"))
    made.sign("trial", "rotor-in", "Ines")
    made.known["leg"] = made.read(
        "rotor-lift", "leg load", 31.2e3, "force", at="leg 1", typed="31.2 kN", instrument="load shackle", serial="LC-2",
        calibration_due=dt.date(2027, 9, 30),
    )  # fmt: skip
    made.done("rotor-in", hold="Lara")
    made.known["as found"] = made.read(
        "total-float", "as found", 9.1e-3, low=7.6e-3, high=8.4e-3, typed="9.10 mm", instrument="DM-3"
    )
    made.known["as left"] = made.read(
        "total-float", "as left", 8e-3, low=7.6e-3, high=8.4e-3, typed="8.00 mm", instrument="DM-3"
    )
    made.known["lapsed instrument"] = made.read(
        "total-float", "as left", 8.01e-3, low=7.6e-3, high=8.4e-3, typed="8.01 mm", instrument="depth micrometer",
        serial="DM-8", calibration_due=dt.date(2027, 2, 20),
    )  # fmt: skip
    made.put(
        Accepted(uid=uid(), done_by="Petra", role="machinery engineer", reason="agrees with DM-3",
                 stop=f"calibration, entry {made.known['lapsed instrument']}")
    )  # fmt: skip
    made.done("float-open", hold="Petra")


def _bundle(made: Rich) -> None:
    whole = made.job.joint(BUNDLE)
    assert whole is not None
    for each in whole.passes:
        made.set_up(BUNDLE, each.name, "Tomas", "wrench T1", "TW-9")
        for place, bolts in enumerate(each.steps, 1):
            entry = made.tightened(BUNDLE, each.name, place, bolts, "Tomas", "wrench T1", "TW-9")
            if (each.name, bolts) == ("2", (8,)):  # the other size's value, as an older program told it
                other = made.tightened(BUNDLE, each.name, place, (2,), "Tomas", "wrench T1", "TW-9")
                number = made.put(
                    Tightened(**{**entry.__dict__, "torque": other.torque, "shown": other.shown}), "otherwise"
                )
                assert number
                continue
            made.put(entry)
            made.read(
                BUNDLE,
                "breakaway torque",
                entry.torque or 0.0,
                "torque",
                "Tomas",
                bolt=bolts[0],
                pass_=each.name,
                instrument="TW-9",
            )
    made.sign("hold", "bundle-bolting", "Tomas", role="machinery engineer", statement="gap closed all round")
    made.known["own hold"] = made.journal.record.count
    made.read("bundle-gap", "as left", 2e-5, high=5e-5, typed="0.02 mm", instrument="feeler FG-1")
    made.done("bundle-closed")
    made.done("bundle-up", hold="Lara")
    made.put(Signed(uid=uid(), done_by="Ines", act="count-in", step="o-rings", role="seal-plates", count=4), "count in")
    made.put(
        Signed(uid=uid(), done_by="Ines", act="part", step="o-rings", role="o-ring-casing", count=3, batch="OR-5512",
               cure_date=dt.date(2026, 6, 10)),
        "seal",
    )  # fmt: skip
    made.put(
        Note(uid=uid(), done_by="Lara", topic="open point", item="thrust-collar", text="guard of the coupling to be painted",
             owner="Olu", due=dt.date(2027, 3, 20)),
        "open point",
    )  # fmt: skip
    gone = made.put(
        Note(uid=uid(), done_by="Lara", topic="open point", text="drain plug missing", owner="Ines"), "closed point"
    )
    made.put(
        Note(uid=uid(), done_by="Ines", topic="open point closed", text="plug fitted", closes=gone), "point closed"
    )
    made.put(Signed(uid=uid(), done_by="Ines", act="count-out", step="o-rings", role="o-ring-casing", count=3))
    made.put(Signed(uid=uid(), done_by="Ines", act="count-out", step="o-rings", role="back-up-ring", count=0), "count")
    made.done("o-rings")
    for place in range(1, 61):
        made.read(
            "bundle-push", "push force", 20e3 + 100 * place, "force", at=f"{place * 40} mm", high=60e3, step="insertion"
        )
    made.done("insertion")
    made.done("head-turn", hold="Lara")
    made.done("head-lift", hold="Lara")


def _pass(made: Rich, name: str, skip: tuple[int, ...] = (), **more: Any) -> None:
    whole = made.job.joint(HEAD)
    assert whole is not None
    each = next(one for one in whole.passes if one.name == name.replace("round 2", "round 1"))
    for person, (tool, serial) in CREW.items():
        made.set_up(HEAD, name, person, tool, serial, **more)
    for place, bolts in enumerate(each.steps, 1):
        person = list(CREW)[place % 2]
        tool, serial = CREW[person]
        left = tuple(bolt for bolt in bolts if bolt not in skip)
        if left:
            made.put(
                made.tightened(HEAD, name, place, left, person, tool, serial, moved=name == "round 1" and place == 3)
            )
        if name in ("1", "2", "3"):
            for bolt in left:
                made.read(
                    HEAD,
                    "stretch",
                    2.2e-4,
                    person=person,
                    bolt=bolt,
                    pass_=name,
                    low=1e-4,
                    high=8e-4,
                    typed="0.22 mm",
                    instrument="UM-7",
                )


def _head_first(made: Rich) -> None:
    made.known["aside"] = made.put(
        SetAside(uid=uid(), done_by="Ines", joint=HEAD, pass_="snug", bolts=(5,), reason="galled <b>")
    )
    made.known["later"] = made.put(
        SetAside(uid=uid(), done_by="Ines", joint=HEAD, pass_="snug", bolts=(9,), reason="tool does not fit")
    )
    _pass(made, "snug", (5, 9))
    made.put(made.tightened(HEAD, "snug", 9, (9,), "Tomas", "wrench W2", "HW-0312"), "tightened later")
    made.put(
        Accepted(
            uid=uid(),
            done_by="Petra",
            entered_by="Ines",
            stop=concession(made.known["aside"]),
            reason="replaced at the next stop",
            role="machinery engineer",
        ),
        "concession",
    )
    _pass(made, "1", (5,))
    wrong = made.put(Signed(uid=uid(), done_by="Ines", act="tag", step="head-first", role="gauge", statement="PG-12"))
    made.known["strike"] = made.put(WrongEntry(uid=uid(), done_by="Ines", entry=wrong, reason="another gauge"))
    made.known["struck"] = wrong
    lube = made.set_up(HEAD, "1", "Ines", "wrench W1", "HW-0311", lubricant="copper paste", batch="C-3")
    made.put(WrongEntry(uid=uid(), done_by="Ines", entry=lube, reason="wrong lubricant"), "lube strike")
    made.clock.forward(hours=5)
    danger = made.put(
        Note(uid=uid(), done_by="Tomas", topic="danger", item=HEAD, text="make safe first, hose at pass 1")
    )
    made.put(
        Accepted(uid=uid(), done_by="Petra", stop=f"danger, entry {danger}", reason="hose changed", role="supervisor")
    )
    made.sign("hold", "head-first", "Petra", role="machinery engineer")


def _revise(made: Rich) -> None:
    made.clock.forward(hours=9)
    title = "Discharge head cover to casing"
    text = made.text.replace('revision = "B"', 'revision = "C"', 1).replace(title, f"{title}, as rev C", 1)
    assert text != made.text
    made.path.write_text(text, "utf-8")
    made._read()
    made.known["plan C"] = made.stand("C", "Tomas")
    key = f"plan changed, {HEAD}, entry {made.known['plan C']}"
    made.put(Accepted(uid=uid(), done_by="Petra", stop=key, reason="only its title"))


def _pair(made: Rich) -> None:
    """Two tools at once by one crew: a pull struck at once, so that the pass stays as it was."""
    serial = " + ".join(serial for _, serial in CREW.values())
    entry = made.tightened(HEAD, "2", 3, (3, 15), "Ines", "wrench W1", serial)
    pair = {"tool": "wrench W1 + wrench W2", "pulled_with": ("HW-0311", "HW-0312")}
    number = made.put(Tightened(**{**entry.__dict__, **pair}), "pair")
    made.put(WrongEntry(uid=uid(), done_by="Ines", entry=number, reason="entered twice"))


def _head_rest(made: Rich) -> None:
    _pass(made, "2", (5,), batch="L-78", batch_before="L-77", reason="the tin was empty")
    _pair(made)
    made.known["lapsed"] = made.set_up(
        HEAD, "3", "Ines", "wrench W1", "HW-0311", batch="L-78", calibration_due=dt.date(2027, 2, 1)
    )
    made.put(
        Accepted(
            uid=uid(),
            done_by="Ines",
            stop=f"calibration, entry {made.known['lapsed']}",
            reason="checked against W2",
            own=True,
        ),
        "own acceptance",
    )
    _pass(made, "3", (5,), batch="L-78")
    made.known["outside"] = made.read(
        HEAD, "gap", 9e-5, at="3 o'clock", high=5e-5, typed="0.09 mm", instrument="feeler FG-1"
    )
    made.put(Accepted(uid=uid(), done_by="Petra", stop=f"reading, entry {made.known['outside']}", reason="by drawing"))
    _pass(made, "round 1", (5,), batch="L-78")
    _pass(made, "round 2", (5,), batch="L-78")
    made.sign("witness", "head-rest", "Wim", role="machinery engineer")


def _after(made: Rich) -> None:
    made.done("suction-on", hold="Lara")
    whole = made.job.joint(SUCTION)
    assert whole is not None
    late = made.clock.now - dt.timedelta(hours=6)
    for each in whole.passes:
        made.set_up(SUCTION, each.name, "Olu", "tensioner set T64", "TS-4")
        for place, bolts in enumerate(each.steps, 1):
            entry = made.tightened(SUCTION, each.name, place, bolts, "Olu", "tensioner set T64", "TS-4")
            made.put(Tightened(**{**entry.__dict__, "done_at": late, "entered_by": "Ines"}), "late")
            made.put(
                Measured(
                    uid=uid(),
                    done_by="Olu",
                    item=SUCTION,
                    what="residual",
                    bolt=bolts[0],
                    pass_=each.name,
                    value=9.4e5,
                    quantity="force",
                    instrument="UM-7",
                )
            )
    made.known["mid hold"] = made.put(
        Note(uid=uid(), done_by="Olu", topic="hold broken", item="thrust-collar", part="4", text="pump failed")
    )
    made.put(Note(uid=uid(), done_by="Olu", topic="handover", item=HEAD, text="stud 5 waits for a new nut"))


def back(made: Rich) -> int:
    """Stud 5 of the discharge head comes back."""
    return made.put(
        Accepted(uid=uid(), done_by="Petra", stop=brought_back(made.known["aside"]), reason="stud replaced")
    )
