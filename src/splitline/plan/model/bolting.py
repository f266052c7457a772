"""Bolting, layers and friction of a joint."""

from typing import Annotated

from pydantic import model_validator

from splitline.plan.declare import (
    Choice,
    Dim,
    Expansion,
    Friction,
    Gap,
    Length,
    Many,
    Modulus,
    Row,
    Stress,
    Table,
    Words,
    YesNo,
    declare,
    require,
    wrong,
)

BoltKind = Annotated[str, Choice(("stud", "through-stud", "bolt", "cap-screw"))]
HOT_ROW = Row((Dim("temperature"), Dim("stress", above=0)), 'a pair, as in ["200 degC", "600 MPa"]')
NutForm = Annotated[str, Choice(("heavy-hex", "hex", "sleeve", "cap", "twelve-point"))]


class BoltingPart(Table):
    """Bolting fields that a group of bolts of another size may replace."""

    thread: Annotated[str, Words("threads")] | None = declare(
        'Thread designation: metric "M48x3" or inch "1 3/4-8UN"', needs="stress_area preload torque", example="M48x3"
    )
    grade: Annotated[str, Words("grades")] | None = declare(
        "Bolt material grade from the library", needs="yield_usage combined_stress", example="ASTM A193 B7"
    )
    yield_strength: Stress | None = declare(
        "Yield strength, where no grade of the library fits", needs="yield_usage", example="720 MPa"
    )
    tensile_strength: Stress | None = declare("Tensile strength of the bolt", needs="strip_external", example="860 MPa")
    modulus: Modulus | None = declare(
        "Modulus of elasticity of the bolt", usual="195 to 213 GPa", needs="stretch", example="205 GPa"
    )
    hot_yield: Annotated[tuple[tuple[float, float], ...], Many(HOT_ROW, least=1, most=20)] | None = declare(
        "Yield strength of the bolt at temperature, from its certificate or standard: pairs of temperature and yield",
        needs="bolt_load_high",
        example=[["100 degC", "640 MPa"], ["200 degC", "600 MPa"]],
    )
    expansion: Expansion | None = declare(
        "Coefficient of expansion of the bolt", usual="11e-6 to 17e-6 1/K", example="11.5e-6 1/K"
    )
    clamp_length: Length | None = declare(
        "Clamped length between the bearing face of the nut or head and the tapped face (or the other nut)",
        usual="2 to 8 diameters",
        needs="stretch turn_angle load_factor",
        example="268 mm",
    )
    shank_diameter: Length | None = declare(
        "Diameter of a reduced shank; leave out for a full-thread stud", example="44 mm"
    )
    shank_length: Length | None = declare("Length of the reduced shank within the clamped length", example="180 mm")
    heater_bore: Length | None = declare(
        "Diameter of the bore for a stud heater; takes area and stiffness", example="14 mm"
    )
    engagement: Length | None = declare(
        "Engaged thread length in the tapped hole",
        usual="1 to 1.5 diameters",
        needs="strip_external strip_internal",
        example="62 mm",
    )
    tapped_material: Annotated[str, Words("tapped")] | None = declare(
        "Material of the tapped hole, from the library", needs="strip_internal", example="ASTM A266 grade 2"
    )
    tapped_strength: Stress | None = declare(
        "Tensile strength of the tapped material", needs="strip_internal", example="485 MPa"
    )
    hole_diameter: Length | None = declare(
        "Clearance hole",
        shown_default="medium series, ISO 273",
        errs="usual hole; a wider one has less bearing face",
        example="52 mm",
    )
    nut: NutForm | None = declare("Form of the nut", shown_default="heavy-hex for inch and large studs")
    nut_height: Length | None = declare(
        "Height of the nut",
        shown_default="from the library's nut table",
        errs="least height of the standard: least thread",
        example="48 mm",
    )
    across_flats: Length | None = declare(
        "Across flats; sizes the socket", shown_default="from the nut table", errs="the standard nut", example="75 mm"
    )
    bearing_diameter: Length | None = declare(
        "Outer diameter of the bearing face",
        shown_default="from the nut table",
        errs="the standard nut or head; a smaller face presses harder and needs less torque",
        example="74 mm",
    )
    washer_thickness: Length | None = declare("Thickness of the washer; leave out for none", example="8 mm")
    washer_diameter: Length | None = declare("Outer diameter of the washer", example="92 mm")
    stud_protrusion: Gap | None = declare(
        "Thread standing above the nut; a tensioner needs about 1.0 diameter",
        source="common practice, no published source",
        example="55 mm",
    )
    bearing_material: Annotated[str, Words("materials")] | None = declare(
        "Material under the nut or head, for the limiting pressure", needs="bearing_pressure", example="ASTM A216 WCB"
    )
    bearing_limit: Stress | None = declare(
        "Limiting pressure under the nut or head", needs="bearing_pressure", example="490 MPa"
    )
    left_hand: YesNo | None = declare("Left-hand thread")


class Bolting(BoltingPart):
    """The bolts of a joint and what they screw into."""

    kind: BoltKind = require("stud (one end tapped), through-stud (two nuts), bolt or cap-screw")


class SizeBolting(BoltingPart):
    """The bolting fields in which some bolts differ."""

    kind: BoltKind | None = declare("Kind of fastener, where it differs")


class Layer(Table):
    """One clamped layer, from the nut down."""

    thickness: Length | None = declare("Thickness of the layer", needs="member_stiffness", example="150 mm")
    modulus: Modulus | None = declare("Modulus of the layer", needs="member_stiffness", example="200 GPa")
    diameter: Length | None = declare("Diameter of material available round one bolt", example="200 mm")
    gasket: YesNo | None = declare("This layer is the gasket: it carries over its own area, not round each bolt")


class FrictionTable(Table):
    """Friction in thread and under the nut: by lubricant class, by two coefficients, or by a nut factor."""

    lubricant: Annotated[str, Words("lubricants")] | None = declare(
        "Lubricant by class of product, from the library", needs="torque", example="molybdenum disulfide paste"
    )
    thread: Friction | None = declare(
        "Friction coefficient in the thread", usual="0.08 to 0.16", needs="torque", example=0.12
    )
    bearing: Friction | None = declare(
        "Friction coefficient under nut or head", usual="0.08 to 0.16", needs="torque", example=0.12
    )
    nut_factor: Friction | None = declare("Nut factor K = T/(F·d)", usual="0.10 to 0.22", needs="torque", example=0.15)

    @model_validator(mode="after")
    def _one_form(self) -> "FrictionTable":
        if self.nut_factor is not None and (self.thread is not None or self.bearing is not None):
            raise wrong("give either nut_factor or thread and bearing, not both")
        return self
