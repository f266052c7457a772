"""The worksheet itself, on a sheet of three bolts in two load cases that needs no room of the program."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from splitline.assess.assembled import checks_of, defaults_of, group_of, item_of
from splitline.assess.result import ItemResult
from splitline.assess.sheet import Absent, Against, Assumed, Default, Each, OnSite, Row, Rule, Sheet
from splitline.assess.worksheet import IDLE, Missing, Worksheet
from splitline.errors import InputError
from tests.assess.sheet_faults import faults
from tests.house import files, graph


@dataclass(frozen=True)
class Bolt:
    area: float | None
    strength: float | None = 600.0
    number: int = 1

    def field(self, below: str) -> str:
        return f"bolt {self.number} {below}"


@dataclass(frozen=True)
class Case:
    pressure: float | None


@dataclass(frozen=True)
class Cover:
    area: float | None = 100.0
    share: float | None = None
    method: str = "pull"
    bolts: tuple[Bolt, ...] = (Bolt(1.0), Bolt(2.0, number=2))
    cases: tuple[Case, ...] = (Case(10.0), Case(20.0))


SHEET = Sheet("cover")
BOLT, CASE = SHEET.axis("bolt"), SHEET.axis("case")
SHEET.given("cover_area", "cover.area")
SHEET.given("share", "cover.share", default=Default(0.5, "share", "common practice", "the safe side"))
SHEET.given("method", "cover.method")
SHEET.given("bolt_area", "bolt.area")
SHEET.given("strength", "bolt.strength")
SHEET.given("pressure", "case.pressure")


@SHEET.result()
def all_bolt(cover: Cover) -> tuple[Bolt, ...]:
    return cover.bolts


@SHEET.result()
def all_case(cover: Cover) -> tuple[Case, ...]:
    return cover.cases


@SHEET.result(CASE, kind="force", title="Force", symbol="P", formula="p·A", source="statics",
              puts={"p": ("pressure", "pressure"), "A": ("cover_area", "area")})  # fmt: skip
def force(pressure: float, cover_area: float) -> float:
    return pressure * cover_area


@SHEET.result(BOLT, CASE, kind="stress", title="Stress", symbol="σ", formula="P/n/A_b")
def stress(force: float, bolt_area: float, cover: Cover) -> float:
    if bolt_area < 0:
        raise InputError("an area is above 0")
    return force / len(cover.bolts) / bolt_area


@SHEET.result(each={"stresses": Each("stress", present=True)}, kind="stress", title="Greatest stress")
def greatest(stresses: tuple[float, ...]) -> float | None:
    return max(stresses, default=None)


@SHEET.result(BOLT, each={"stresses": Each("stress")}, title="Greatest of one bolt")
def greatest_of_bolt(stresses: tuple[float, ...]) -> float:
    return max(stresses)


def _by_torque(method: str) -> bool:
    return method == "torque"


def _by_pull(method: str) -> bool:
    return method == "pull"


@SHEET.result(name="setting", when=_by_torque, title="Setting")
def setting_torque(cover_area: float, share: float) -> float:
    return cover_area * share


@SHEET.result(name="setting", when=_by_pull)
def setting_pull(share: float, greatest: float = -1.0) -> float:
    return share * greatest


@SHEET.result()
def looked_up(method: str) -> float:
    raise Absent("method", why=f"nobody knows {method}")


@SHEET.check("stress", "stress of {bolt.number}", BOLT, CASE, kind="stress", basis="statics")
def check_stress(stress: float, strength: float) -> Against:
    return Against(stress, strength)


@SHEET.check("twist", "twist", when=_by_torque)
def check_twist() -> Rule:
    return Rule("fails", "twisted")


@SHEET.check("quiet", "quiet", CASE, quiet=True)
def check_quiet(force: float) -> Rule:
    return Rule("ok")


@SHEET.note()
def remark(share: float) -> str | None:
    return "half" if share == 0.5 else None


def test_the_declarations_have_no_fault() -> None:
    assert faults(SHEET) == []


def test_values_stand_at_their_places() -> None:
    sheet = Worksheet(SHEET, Cover())
    assert sheet.places((BOLT, CASE))[1] == (("bolt", 0), ("case", 1))
    assert sheet.of(force, (("case", 1),)) == 2000.0
    assert sheet.of(stress, (("bolt", 1), ("case", 1))) == 500.0
    assert sheet.of(greatest) == 1000.0
    assert sheet.of(greatest_of_bolt, (("bolt", 1),)) == 500.0


def test_what_went_in_is_kept_for_the_working() -> None:
    sheet = Worksheet(SHEET, Cover())
    assert list(sheet.puts(sheet.cell("force", (("case", 0),)))) == [("p", 10.0, "pressure"), ("A", 100.0, "area")]


def test_a_missing_input_is_named_at_the_root_wherever_it_is_wanted() -> None:
    sheet = Worksheet(SHEET, Cover(area=None, bolts=(Bolt(None),), cases=(Case(None),)))
    value = sheet.cell("stress", (("bolt", 0), ("case", 0))).value
    assert value == Missing(("case.0.pressure", "area", "bolt 1 area"))
    assert [f.outcome for f in sheet.found() if f.declared.key == "stress"] == [value]
    assert [f for f in sheet.found() if f.declared.key == "quiet"] == []


def test_one_missing_makes_a_reduction_missing_unless_it_takes_what_is_there() -> None:
    sheet = Worksheet(SHEET, Cover(cases=(Case(10.0), Case(None))))
    assert sheet.of(greatest) == 500.0
    assert sheet.cell("greatest_of_bolt", (("bolt", 0),)).value == Missing(("case.1.pressure",))


def test_physics_that_refuses_is_missing_with_its_reason() -> None:
    value = Worksheet(SHEET, Cover(bolts=(Bolt(-1.0),))).cell("stress", (("bolt", 0), ("case", 0))).value
    assert isinstance(value, Missing)
    assert [str(error) for error in value.because] == ["an area is above 0"]


def test_a_function_may_say_what_is_absent() -> None:
    value = Worksheet(SHEET, Cover(method="prayer")).cell("looked_up").value
    assert isinstance(value, Missing)
    assert value.needs == ("method",)


def test_a_default_is_taken_and_told_only_where_it_is_wanted() -> None:
    sheet = Worksheet(SHEET, Cover())
    assert list(sheet.assumed()) == []
    assert sheet.of(setting_pull) == 500.0
    assert [taken.field for taken in sheet.assumed()] == ["share"]
    given = Worksheet(SHEET, Cover(share=0.5))
    assert given.of(setting_pull) == 500.0
    assert list(given.assumed()) == []


def test_the_first_way_that_holds_is_taken_and_none_is_idle() -> None:
    assert Worksheet(SHEET, Cover(method="torque")).of(setting_pull) == 50.0
    idle = Worksheet(SHEET, Cover(method="heat"))
    assert idle.cell("setting").value is IDLE
    assert [f.declared.key for f in idle.found() if f.declared.key == "twist"] == []


def test_an_argument_with_a_default_stands_in_for_what_is_not_there() -> None:
    assert Worksheet(SHEET, Cover(cases=(), share=1.0)).of(setting_pull) == -1.0


def test_remarks_are_said_where_there_is_something_to_say() -> None:
    assert list(Worksheet(SHEET, Cover()).remarks()) == ["half"]
    assert list(Worksheet(SHEET, Cover(share=0.4)).remarks()) == []


def _all(sheet: Worksheet) -> list[object]:
    told = [name for name in SHEET.ways if name != "looked_up"]  # an exception is equal to itself only
    return [sheet.cell(name, at).value for name in told for at in sheet.places(SHEET.ways[name][0].scope)]


def test_an_edit_computes_only_what_depends_on_it() -> None:
    first = Worksheet(SHEET, Cover())
    _all(first)
    cover = Cover()
    edited = replace(cover, cases=(cover.cases[0], Case(30.0)))
    again, fresh = Worksheet(SHEET, edited, before=first), Worksheet(SHEET, edited)
    assert _all(again) == _all(fresh)
    assert again.of(force, (("case", 1),)) == 3000.0
    same = Worksheet(SHEET, Cover(), before=first)
    _all(same)
    assert same.computed == 0
    assert again.computed < fresh.computed


def test_a_quiet_check_tells_a_refusal_once_and_an_absent_input_never() -> None:
    sheet = Sheet("thing")

    @sheet.result()
    def refused(thing: object) -> float:
        raise InputError("too small")

    for quiet in (False, True, True):

        @sheet.check("refused", "refused", quiet=quiet)
        def of_it(refused: float) -> Rule:
            return Rule("ok")

    assert len(list(Worksheet(sheet, object()).found())) == 1
    quiet_only = Sheet("thing")
    quiet_only.result()(refused)
    quiet_only.check("refused", "refused", quiet=True)(of_it)
    assert len(list(Worksheet(quiet_only, object()).found())) == 1


def test_a_default_that_went_into_nothing_is_not_told() -> None:
    sheet = Worksheet(SHEET, Cover(area=None, method="torque"))
    assert isinstance(sheet.cell("setting").value, Missing)
    assert list(sheet.assumed()) == []


def _pipes() -> Sheet:
    """A sheet whose defaults are computed, whose checks tell what they are of, and whose missing checks name fields."""
    sheet = Sheet("cover", names_needs=True)
    bolt = sheet.axis("bolt", leg="number")
    sheet.given("bolt_area", "bolt.area")
    sheet.given("method", "cover.method")

    @sheet.result()
    def all_bolt(cover: Cover) -> tuple[Bolt, ...]:
        return cover.bolts

    @sheet.result(bolt, kind="length", title="Length", puts={})
    def length(bolt: Bolt) -> Assumed | float:
        return Assumed(2.0, bolt.field("length"), "rule of thumb", "length") if bolt.number > 1 else 1.0

    @sheet.check("area", "area of {bolt.number}", bolt, basis="{bolt_area} is enough")
    def area(bolt_area: float, length: float) -> Against:
        return Against(bolt_area, length, about={"tool": "rule"})

    @sheet.note(bolt)
    def guessed(bolt: Bolt) -> Assumed | None:
        return Assumed(None, bolt.field("end"), "unseen", text="flat") if bolt.number == 1 else None

    def pulls(method: str) -> bool:
        return method == "pull"

    @sheet.caution("pinch", when=pulls)
    def pinch() -> None:
        """No figure."""

    return sheet


def test_computed_defaults_are_told_as_soon_as_they_are_asked_for() -> None:
    sheet = Worksheet(_pipes(), Cover())
    checks_of(sheet, "SI")
    assert list(sheet.remarks()) == []
    told = [(each.field, each.said, each.basis) for each in defaults_of(sheet, "SI")]
    assert told == [("bolt 2 length", "2000 mm", "rule of thumb"), ("bolt 1 end", "flat", "unseen")]


def test_a_check_says_what_it_is_of_and_a_missing_one_what_it_needs() -> None:
    found = checks_of(Worksheet(_pipes(), Cover(bolts=(Bolt(0.5), Bolt(None, number=2)))), "SI")
    assert [(each.leg, each.tool, each.verdict) for each in found] == [(1, "rule", "ok"), (2, "", "missing")]
    assert found[0].basis == "0.5 is enough"
    assert (found[1].note, found[1].basis) == ("needs bolt 2 area", "")


def test_a_caution_stands_where_its_condition_holds() -> None:
    assert [each.code for each in item_of(Worksheet(_pipes(), Cover()), "c", "C", "SI").cautions] == ["pinch"]
    assert item_of(Worksheet(_pipes(), Cover(method="turn")), "c", "C", "SI").cautions == ()


def test_a_result_with_nothing_put_in_still_has_its_line() -> None:
    sheet = Worksheet(_pipes(), Cover())
    at = (("bolt", 0),)
    assert [(line.key, line.value) for line in group_of(sheet, ("bolt",), place=at).working] == [("length", 1.0)]


def test_every_sheet_of_the_program_is_declared_without_fault() -> None:
    from splitline.assess import insertion, item, joint, lift, step, window

    for sheet in (insertion.SHEET, item.SHEET, joint.SHEET, lift.SHEET, step.SHEET, window.SHEET):
        assert faults(sheet) == []


def test_faults_of_declarations_are_found() -> None:
    sheet = Sheet("thing")
    axis = sheet.axis("part")

    def one(two: float) -> float:
        return two

    def two(one: float) -> float:
        return one

    def deep() -> float:
        return 1.0

    def looks(deep: float, nowhere: float) -> float:
        return deep + nowhere

    for function, scope in ((one, ()), (two, ()), (deep, (axis,)), (looks, ())):
        sheet.result(*scope)(function)
    said = faults(sheet)
    assert any("results that need one another: one > two > one" in fault for fault in said)
    assert "looks: deep needs Each over part" in said
    assert "looks: nothing is called nowhere" in said
    with pytest.raises(RuntimeError, match="need one another"):
        Worksheet(sheet, object()).cell("one")


@dataclass(frozen=True)
class Sling:
    length: float | None = 2.0
    angle: float | None = None


@dataclass(frozen=True)
class Bundle:
    legs: tuple[Sling, ...] = (Sling(), Sling(3.0, 0.5))
    weight: float | None = 12.0
    flown: float | None = None


def _bundle() -> Sheet:
    sheet = Sheet("bundle")
    sheet.rows("leg", "bundle.legs", leg="number")
    sheet.given("length", "leg.length")
    sheet.given("weight", "bundle.weight")
    sheet.given("angle", "leg.angle")
    sheet.stands("suspended-load")

    @sheet.result("leg", name="angle")
    def flat(leg: Row[Sling], length: float) -> Assumed:
        return Assumed(0.25, "leg.angle", f"as long as {length}", text="flat")

    @sheet.result(each={"every": Each("length")}, title="Lengths", shape="list")
    def lengths(every: tuple[float, ...]) -> tuple[float, ...]:
        return every

    @sheet.result(title="Share", formula="W/n", puts={"W": ("weight", "force"), "L_i": ("lengths", "length")})
    def share(bundle: Bundle, weight: float) -> float:
        return weight / len(bundle.legs)

    sheet.tell("shared", "share", title="Shared", after=("flown",))

    @sheet.result()
    def flown(bundle: Bundle) -> float:
        if bundle.flown is None:
            raise OnSite("flown", why="look up")
        if bundle.flown < 0:
            raise InputError("downwards")
        return bundle.flown

    @sheet.check("angle", "leg {leg.number}", "leg", part="sling {leg.number}", after=("weight",))
    def steep(angle: float, length: float) -> Against:
        return Against(angle, 1.0, about={"tool": "rule"})

    @sheet.check("flown", "flown", lacking="look", asks=("sky.{weight}",), refused="fails")
    def flies(flown: float) -> Rule:
        return Rule("ok")

    @sheet.check("heavy", "heavy", lacking="weigh it")
    def heavy(weight: float) -> Rule:
        return Rule("ok")

    @sheet.check("late", "late", quiet=True)
    def late(weight: float, flown: float) -> Rule:
        return Rule("ok")

    def _high(bundle: Bundle) -> bool:
        return (bundle.flown or 0.0) > 1.0

    @sheet.caution("pinch", when=_high)
    def falls(bundle: Bundle) -> str:
        return f"from {bundle.flown:g}"

    assert faults(sheet) == []
    return sheet


def _item(bundle: Bundle) -> ItemResult:
    return item_of(Worksheet(_bundle(), bundle), "b", "Bundle", "SI")


def test_a_check_on_a_row_says_which_row_and_part_it_is_of() -> None:
    found = [check for check in _item(Bundle()).checks if check.key == "angle"]
    assert [(c.title, c.leg, c.part, c.tool) for c in found] == [
        ("Leg 1", 1, "sling 1", "rule"),
        ("Leg 2", 2, "sling 2", "rule"),
    ]
    assert Worksheet(_bundle(), Bundle((Sling(None),))).cell("lengths").value == Missing(("leg.1.length",))


def test_a_computed_default_stands_in_for_an_input_and_is_told_once() -> None:
    result = _item(Bundle((Sling(), Sling(4.0))))
    assert [check.demand for check in result.checks if check.key == "angle"] == [0.25, 0.25]
    assert [(d.field, d.said, d.basis) for d in result.defaults] == [("leg.angle", "flat", "as long as 4.0")]
    assert _item(Bundle((Sling(2.0, 0.5),))).defaults == ()


def test_what_is_known_only_on_the_job_is_on_site_for_whoever_needs_it() -> None:
    check = next(c for c in _item(Bundle()).checks if c.key == "flown")
    assert (check.verdict, check.note, check.needs) == ("on-site", "look", ("sky.12.0",))
    assert _item(Bundle(weight=None)).results["lengths"] == [2.0, 3.0]


def test_a_missing_input_has_its_own_words_and_a_refused_one_its_own_verdict() -> None:
    heavy = next(c for c in _item(Bundle(weight=None, flown=1.0)).checks if c.key == "heavy")
    assert (heavy.verdict, heavy.note, heavy.needs) == ("missing", "weigh it", ("weight",))
    flies = next(c for c in _item(Bundle(flown=-1.0)).checks if c.key == "flown")
    assert (flies.verdict, flies.note) == ("fails", "downwards")


def test_a_quiet_check_repeats_nothing_that_was_said() -> None:
    assert [c.key for c in _item(Bundle(weight=None)).checks] == ["flown", "heavy"]


def test_what_comes_after_something_waits_for_it() -> None:
    assert "shared" not in _item(Bundle()).results
    assert _item(Bundle(flown=2.0)).results["shared"] == 6.0


def test_the_working_puts_in_names_the_function_did_not_ask_for() -> None:
    line = next(line for line in _item(Bundle()).working if line.key == "share")
    assert [(put.symbol, put.value) for put in line.puts] == [("W", 12.0), ("L_1", 2.0), ("L_2", 3.0)]


def test_cautions_without_a_figure_stand_together() -> None:
    assert list(Worksheet(_bundle(), Bundle()).warned()) == [("suspended-load", "")]
    assert list(Worksheet(_bundle(), Bundle(flown=2.0)).warned()) == [("suspended-load", ""), ("pinch", "from 2")]


def _fallen(given: float | None) -> Sheet:
    """Two ways to one name, the first idle although its condition holds; and a check that only asks."""
    sheet = Sheet("bundle")
    sheet.given("weight", "bundle.weight")

    def heavy(bundle: Bundle) -> bool:
        return given is not None

    @sheet.result(name="hung", when=heavy, after=("nothing",))
    def below_a_beam(bundle: Bundle) -> float:
        return 1.0

    @sheet.result(name="hung")
    def on_one_hook(bundle: Bundle) -> float:
        return 2.0

    @sheet.result()
    def nothing(bundle: Bundle) -> None:
        return None

    @sheet.result()
    def beam(bundle: Bundle) -> float:
        raise Absent("beam", why="weigh it")

    sheet.asks("beam", "beam", "beam", "weight", lacking="give {hung:g} more")
    sheet.asks("words", "words", "beam")
    return sheet


def test_a_way_whose_condition_holds_is_the_way_even_where_it_is_idle() -> None:
    assert Worksheet(_fallen(1.0), Bundle()).cell("hung").value is IDLE
    assert Worksheet(_fallen(None), Bundle()).cell("hung").value == 2.0


def test_a_check_that_only_asks_names_what_is_missing_in_its_own_words() -> None:
    checks = item_of(Worksheet(_fallen(None), Bundle(weight=None)), "b", "B", "SI").checks
    assert [(check.needs, check.note) for check in checks] == [
        (("beam", "weight"), "give 2 more"),
        (("beam",), "weigh it"),
    ]


def test_the_rooms_of_a_sheet_are_imported_by_their_room_alone() -> None:
    """What is told stands in the order of declaration: it must not hang on who imports a room first."""
    edges = graph(files(), inside=True)
    for room in ("lift",):
        own = {f"splitline.assess.{name}" for name in (room, f"{room}_told")}
        rooms = {name for name in edges if name.startswith(f"splitline.assess.{room}_")} - own
        outside = {name: found & rooms for name, found in edges.items() if name not in rooms | own and found & rooms}
        assert outside == {}


def test_what_is_told_stands_in_the_order_of_the_rooms_whichever_was_imported_first() -> None:
    from types import ModuleType

    sheet = Sheet("thing")
    early, late = ModuleType("early"), ModuleType("late")

    def said(name: str, room: ModuleType) -> None:
        def one() -> float:
            return 1.0

        one.__module__ = room.__name__
        sheet.result(name=name, title=name)(one)
        sheet.tell(f"{name} again", name, title=f"{name} again")
        sheet.check(name, name)(one)

    for name, room in (("third", late), ("first", early), ("fourth", late), ("second", early)):
        said(name, room)
    sheet.arrange(early, late)
    told = ["first", "first again", "second", "second again", "third", "third again", "fourth", "fourth again"]
    assert [key.key for key in sheet.told_keys()] == told
    assert [check.key for check in sheet.checks] == ["first", "second", "third", "fourth"]


def test_the_joint_s_order_hangs_on_no_import() -> None:
    """Every room of the joint is in the order given, so that none is left to whoever imports it first."""
    from splitline.assess import joint, joint_sheet

    ways = [way for ways in joint.SHEET.ways.values() for way in ways if way.key is not None]
    ranks = [way.room for way in ways]
    assert joint_sheet.__name__ not in ranks
    blocks = [room for n, room in enumerate(ranks) if n == 0 or room != ranks[n - 1]]
    assert ranks[0] == "splitline.assess.joint_hardware"
    assert blocks[-1] == "splitline.assess.joint_accept"
