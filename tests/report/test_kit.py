"""The kit list: the demo plan counted by hand, and plans that leave things out."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.plan.starting import starting_text
from splitline.report.blocks import Table
from splitline.report.kit import Kit, kit
from splitline.report.kit_lines.gauges import RANGES, gauge_line, gauge_range
from splitline.report.kit_lines.lengths import bought, length_said
from splitline.report.kit_lines.line import Line, flats_said, merged, rated
from splitline.report.kit_lines.measuring import reading_step
from tests.report.prints import WRONG, bundle, demo, of_type, plan_of, texts


@pytest.fixture(name="made", scope="module")
def made_fixture() -> Kit:
    return kit(demo().plan, demo().assessment)


def counts(made: Kit, section: str) -> dict[tuple[str, str | None], tuple[int | None, int]]:
    return {(line.what, line.size): (line.needed, line.spare) for line in made.of(section)}


def test_sockets_by_across_flats(made: Kit) -> None:
    """By hand: M56 studs with two wrenches, M64 studs by tensioner, M30 and M36 cap screws with one wrench; one spare each."""
    assert counts(made, "Sockets and keys") == {
        ("socket", "90 mm"): (2, 1),
        ("socket", "100 mm"): (1, 1),
        ("hexagon key bit", "22 mm"): (1, 1),
        ("hexagon key bit", "27 mm"): (1, 1),
    }


def test_wrenches_and_tensioners_with_ranges_and_serials(made: Kit) -> None:
    """By hand: W1 and W2, T1, ten of twenty studs tensioned at once, a spare of each kind."""
    lines = {line.what: line for line in made.of("Wrenches and tensioners")}
    assert {line.serials for line in lines.values() if line.serials} == {
        ("HW-0311",), ("HW-0312",), ("TW-1140",), ("HT-0087",),
    }  # fmt: skip
    head = lines["tensioner head, tensioner set T64"]
    assert (head.needed, head.spare, head.size) == (10, 1, "M64x4, area 11900 mm²")
    assert lines["hydraulic wrench W1"].size == "800 N·m to 8100 N·m"
    assert lines["spare torque wrench"].total == 1


def test_slings_are_counted_by_their_tags(made: Kit) -> None:
    """By hand: RS-21, 22; CH-81 to 84; WR-240 to 243; CHN-03, 04; two ropes serve two lifts."""
    slings = made.of("Slings")
    assert sorted(line.serials[0] for line in slings) == [
        "CH-81", "CH-82", "CH-83", "CH-84", "CHN-03", "CHN-04", "RS-21", "RS-22", "WR-240", "WR-241", "WR-242", "WR-243",
    ]  # fmt: skip
    twice = next(line for line in slings if line.serials == ("WR-240",))
    assert twice.used_in == ("discharge-head-upend leg 1", "discharge-head-lift leg 1")
    assert all(line.size is not None and line.size.startswith("length ") for line in slings)
    assert len(slings) == 12


def test_fittings_and_hoists_by_leg_with_capacity(made: Kit) -> None:
    """By hand: four hoist rings of 8 t, one shouldered eyebolt of 3 t at a time, hoists of 3, 8 and 3 t; lug shackles unknown."""
    found = counts(made, "Shackles and fittings")
    assert found["swivel hoist ring", "78.5 kN (8 t)"] == (4, 0)
    assert found["eyebolt, shouldered", "29.4 kN (3 t)"] == (1, 0)
    shackles = [line for line in made.of("Shackles and fittings") if line.what == "shackle to the lug"]
    assert [(line.needed, len(line.used_in)) for line in shackles] == [
        (2, 4),
        (2, 2),
    ]  # WR-240, 241 turn and lift one head
    assert shackles[0].note.endswith("pulls 11.7 kN nominal, 15.7 kN governing")
    assert set(counts(made, "Hoists and adjusters")) == {
        ("chain hoist or turnbuckle", "29.4 kN (3 t), step 24 mm"),
        ("chain hoist or turnbuckle", "78.5 kN (8 t), step 48 mm"),
        ("chain hoist or turnbuckle", "29.4 kN (3 t), step 1.5 mm"),
    }


def test_gauges_go_by_the_pressure_they_are_read_at(made: Kit) -> None:
    sizes = {line.what: line.size for line in made.of("Pumps and gauges")}
    assert sizes["gauge of the wrench pump"] == "0 to 1000 bar"  # 505 bar is above three quarters of 600
    assert sizes["gauge of the tensioner pump"] == "0 to 1600 bar"  # 900 bar
    assert sizes["gauge of the jack pump"] == "0 to 160 bar"  # 118.8 bar is just below three quarters of 160
    assert sizes["gauge of the mounting ram"] == "0 to 600 bar"


def test_instruments_for_the_acceptance_asked(made: Kit) -> None:
    found = counts(made, "Measuring")
    assert found["feeler gauge set", "with a 0.05 mm leaf"] == (1, 1)
    assert found["outside micrometer", "100 mm to 125 mm"] == (1, 1)
    # ± 15 % of 0.607 mm: a band of 0.18 mm, read to about a tenth of it
    assert found["depth micrometer or ultrasonic length meter", "reads 0.01 mm"] == (1, 1)
    assert ("voltmeter", "reads 0.01 V") in found


def test_instruments_the_plan_names_are_listed_by_serial(made: Kit) -> None:
    lines = {line.serials: line for line in made.of("Instruments, by serial")}
    assert set(lines) == {("DM-3",), ("LC-2",)}
    assert lines["DM-3",].note == "calibrated until 2027-05-20"


def test_items_with_spares_and_what_is_counted_out(made: Kit) -> None:
    found = counts(made, "Parts and consumables")
    assert found["Casing O-ring", "ID 780 mm x 8.4 mm"] == (3, 1)
    # 4 installation plates, 2 guide pins for each cover
    assert sorted(line.needed or 0 for line in made.of("Counted in and out")) == [2, 2, 4]
    assert all(line.count_out for line in made.of("Counted in and out"))
    assert not made.of("Guide pins")  # the plan's own item names them


def test_lubricants_by_joint(made: Kit) -> None:
    (only,) = made.of("Lubricant")
    assert (only.used_in, only.size) == (("bundle-joint",), None)
    paste = [line for line in made.of("Parts and consumables") if "paste" in line.what]
    assert [(line.used_in, line.total) for line in paste] == [(("discharge-head", "suction-head"), 3)]  # counted once


def test_the_amount_of_lubricant_of_a_joint(tmp_path: Path) -> None:
    """By hand: M48x3, d2 46.05 mm; π·46.05·(62 + 46) + π/4·(74² − 52²) = 17 800 mm²; 24 × 0.2 mm = 86 ml."""
    found = plan_of(tmp_path, starting_text("barrel-head-cover"))
    (line,) = kit(found.plan, found.assessment).of("Lubricant")
    assert "about 90 ml for head-cover" in line.note


def test_slings_say_what_they_pull_at_worst(made: Kit) -> None:
    twice = next(line for line in made.of("Slings") if line.serials == ("WR-240",))
    assert twice.note == (
        "single, pulls 11.8 kN nominal, 15.6 kN governing; single, pulls 11.7 kN nominal, 15.7 kN governing"
    )
    shared = next(line for line in made.of("Slings") if line.serials == ("CH-83",))
    assert shared.note.endswith(", 43.8 kN governing")  # its share by the rule of two legs; by lengths and centre 42.9


def test_what_a_plan_leaves_out_is_none_and_never_zero(tmp_path: Path) -> None:
    text = """
format = 1
[plan]
title = "bare"
[[joint]]
id = "j"
title = "J"
[joint.bolting]
kind = "through-stud"
[joint.tightening]
method = "hydraulic wrench"
tools_together = 2
[[lift]]
id = "l"
title = "L"
[[lift.leg]]
pick = ["0 mm", "0 mm", "0 mm"]
[lift.spigot]
guide_pin_length = "200 mm"
[[item]]
id = "x"
title = "Plugs"
"""
    found = plan_of(tmp_path, text)
    made = kit(found.plan, found.assessment)
    socket, backing = made.of("Sockets and keys")
    assert (socket.size, socket.needed) == (None, 2)
    assert (backing.what, backing.needed) == ("backing wrench", 2)
    assert [(line.size, line.needed) for line in made.of("Wrenches and tensioners")] == [(None, 2), (None, 0)]
    assert made.of("Slings")[0].size is None
    assert made.of("Guide pins")[0].needed == 2
    plugs = made.of("Parts and consumables")[0]
    assert (plugs.needed, plugs.total) == (None, None)
    assert made.total("Parts and consumables") is None
    assert made.as_json()["sections"][-1]["lines"][-1]["needed"] is None


def test_heated_studs_ask_for_heaters_by_their_bore(tmp_path: Path) -> None:
    text = """
format = 1
[plan]
title = "hot"
[[joint]]
id = "j"
title = "J"
[joint.bolting]
kind = "stud"
thread = "M64x4"
heater_bore = "16 mm"
[joint.tightening]
method = "heat"
tools_together = 4
"""
    found = plan_of(tmp_path, text)
    (heater,) = kit(found.plan, found.assessment).of("Stud heaters")
    assert (heater.size, heater.needed, heater.spare) == ("for a bore of 16 mm", 4, 1)


def test_merging_takes_the_most_any_use_needs_at_once() -> None:
    one = Line("s", "w", "90 mm", 2, 1, (), ("a",))
    two = Line("s", "w", "90 mm", 1, 1, ("x",), ("b",), "note")
    (both,) = merged([one, two])
    assert (both.needed, both.spare, both.serials, both.used_in, both.note) == (2, 1, ("x",), ("a", "b"), "note")
    assert merged([Line("s", "w", None, None), one])[0].needed is None


@pytest.mark.parametrize(
    ("flats", "thread", "system", "said"),
    [
        (0.09, "M56x4", "SI", "90 mm"),
        (0.09, "M56x4", "US", "90 mm"),
        (2.75 * 0.0254, "1 3/4-8UN", "US", "2 3/4 in"),
        (2.75 * 0.0254, "1 3/4-8UN", "SI", "2 3/4 in"),
        (15 / 16 * 0.0254, "5/8-11UNC", "US", "15/16 in"),
        (3 * 0.0254, "2-8UN", "US", "3 in"),
        (None, "M56", "SI", None),
    ],
)
def test_sockets_are_said_as_they_are_stamped(flats: float | None, thread: str, system: str, said: str | None) -> None:
    assert flats_said(flats, thread, system) == said  # type: ignore[arg-type]


def test_capacities_are_said_as_force_and_as_on_the_tag() -> None:
    assert rated(3000 * 9.80665, "SI") == "29.4 kN (3 t)"
    assert rated(12000 * 4.4482216152605, "US") == "12 kip (12000 lb)"


def test_gauge_ranges_are_used_to_three_quarters_at_most() -> None:
    for top in RANGES:
        assert gauge_range(0.75 * top) == top
        assert gauge_range(0.76 * top) != top
    assert gauge_range(1e12) is None
    assert gauge_line("g", None, "j", "SI").size is None


@pytest.mark.parametrize(("band", "step"), [(0.344e-3, 0.02e-3), (0.1e-3, 0.01e-3), (10e-3, 1e-3), (1e-6, None)])
def test_an_instrument_reads_a_tenth_of_its_band(band: float, step: float | None) -> None:
    assert reading_step(band) == step


def test_the_kit_list_among_the_sheets_has_the_units_of_the_print() -> None:
    sizes = [row[1] for block in of_type(bundle(demo(), system="US").sheets[-1], Table) for row in texts(block)]
    assert "length 8.0 ft" in sizes  # 94 in, a bundle's leg without an adjuster
    assert not any(size.startswith("length") and size.endswith(" m") for size in sizes)


def test_what_is_counted_in_and_out_has_a_box_for_each() -> None:
    heads = {block.title: block.head for block in of_type(bundle(demo()).sheets[-1], Table)}
    assert heads["Counted in and out"][-2:] == ("In", "Out")
    assert heads["Slings"][-2:] == ("Note", "In")


def test_a_fitting_nobody_chose_has_a_line_of_its_own() -> None:
    found = demo(WRONG)
    lines = [line for line in kit(found.plan, found.assessment).lines if line.what == "fitting at the load"]
    assert [(line.size, line.used_in) for line in lines] == [
        (None, ("cover-lift leg 1",)),
        (None, ("cover-lift leg 2",)),
    ]
    assert lines[0].note == "not chosen in the plan; pulls 4.1 kN nominal, 5.1 kN governing"


def test_what_the_plan_does_not_count_stands_as_reminders_and_unlike_things_are_not_added(made: Kit) -> None:
    """By hand, from fields of the demo: hydraulic tools, one lift turned up on the floor, two oil fits, an insertion."""
    found = {line.what: line for line in made.of("Reminders: the site's list governs")}
    # ten heads of the tensioner set at once, each on its hose
    assert found["hydraulic hose, checked and in date"].needed == 10
    assert found["couplings, pairs"].needed == 10
    # 1650 mm by 250 mm are seven strokes of one jack: six spacers carry it on
    assert (found["jack spacers"].needed, found["jack spacers"].size) == (6, "each 250 mm long, one stroke")
    spares = [(line.what, line.size) for line in made.of("Reminders: the site's list governs") if "spare" in line.what]
    assert spares == [
        ("spare stud with nuts", "M56x4"), ("spare stud with nuts", "M64x4"), ("spare cap screw", "M30"),
        ("spare cap screw", "M36"),
    ]  # fmt: skip
    assert found["gauge of the leak test"].size == "0 to 10 bar"  # 6 bar is three quarters of 8
    assert found["floor pivot under the tail, with its bearing plate"].used_in == ("discharge-head-upend",)
    assert found["oil-injection shields, and nobody in line with a fitting"].used_in == (
        "thrust-collar",
        "coupling-hub",
    )
    assert any(what.startswith("leak-test set") for what in found)
    assert any(what.startswith("master link") for what in found)
    # unlike things: sockets with keys, slings of several kinds, feelers with load cells
    for section in made.sections:
        assert made.adds(section) <= (len({line.what for line in made.of(section)}) == 1), section
    assert not made.adds("Sockets and keys")
    assert not made.adds("Measuring")
    assert made.adds("Hoists and adjusters")
    assert {each["section"]: each["total"] for each in made.as_json()["sections"]}["Measuring"] is None


def test_slings_are_of_lengths_that_can_be_bought() -> None:
    """Tenths of a metre, half feet: common practice, no published source. By hand: the next above, with an adjuster a step less."""
    assert [round(bought(length, False, "SI"), 6) for length in (2.387, 2.4, 2.401, 0.02)] == [2.4, 2.4, 2.5, 0.1]
    assert [round(bought(length, True, "SI"), 6) for length in (2.387, 2.4, 0.15)] == [2.2, 2.3, 0.1]
    assert length_said(bought(2.387, False, "US"), "US") == "length 8.0 ft"


def test_no_sling_of_the_demo_is_ordered_to_the_millimetre(made: Kit) -> None:
    sizes = {line.serials[0]: (line.size, line.note) for line in made.of("Slings")}
    assert sizes["CH-83"][0] == "length 2.4 m"  # hangs at 2387 mm
    assert sizes["CH-81"][0] == "length 2.2 m"  # hangs at 2368 mm, with a chain hoist
    assert sizes["CH-81"][1].endswith("the adjuster makes up the rest")
    assert sizes["RS-21"][0] == "length 2.6 m each part, twice that and round the load"  # a basket


def test_a_piece_counted_once_for_legs_under_two_tags_is_told(made: Kit) -> None:
    eyebolt = next(line for line in made.of("Shackles and fittings") if line.what.startswith("eyebolt"))
    hoist = next(line for line in made.of("Hoists and adjusters") if "step 1.5 mm" in (line.size or ""))
    for line in (eyebolt, hoist):
        assert line.needed == 1
        assert "legs under the tags CHN-03, CHN-04" in line.note
    assert not any("under the tags" in line.note for line in made.lines if line not in (eyebolt, hoist))


def test_a_tag_is_one_thing(tmp_path: Path) -> None:
    leg = '[[lift.leg]]\npick = ["{x} mm", "0 mm", "0 mm"]\nsling = "{sling}"\ntag = "{tag}"\n'
    wire, chain = "wire rope 24 mm 6x36 IWRC", "alloy chain grade 80 16 mm"
    text = 'format = 1\n[plan]\ntitle = "t"\n[[lift]]\nid = "l"\ntitle = "L"\n'
    text += leg.format(x=-500, sling=wire, tag="S-1") + leg.format(x=500, sling=wire, tag="S-1")
    text += '[[lift]]\nid = "m"\ntitle = "M"\n'
    text += leg.format(x=-500, sling=wire, tag="S-2") + leg.format(x=500, sling=chain, tag="S-2")
    found = plan_of(tmp_path, text)
    lines = kit(found.plan, found.assessment).of("Slings")
    assert ["ONE TAG ON TWO LEGS of l: a tag is one piece" in line.note for line in lines] == [True, False, False]
    assert ["ONE TAG, TWO DESCRIPTIONS" in line.note for line in lines] == [False, True, True]
