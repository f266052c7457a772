"""An interference fit: collar, hub or sleeve, mounted by oil pressure, heat or force."""

from typing import Annotated

from pydantic import model_validator

from splitline.plan.declare import (
    TAPER,
    Choice,
    Density,
    Dim,
    Expansion,
    Factor,
    Friction,
    Gap,
    Id,
    Length,
    Many,
    Modulus,
    Num,
    PressureAboveZero,
    Speed,
    Stress,
    Table,
    Temperature,
    Text,
    Time,
    Torque,
    Words,
    YesNo,
    declare,
    require,
    wrong,
)

Mounting = Annotated[str, Choice(("oil", "heat", "press"))]
PartName = Annotated[str, Choice(("hub", "collar", "sleeve", "ring"))]
HeatBy = Annotated[str, Choice(("induction", "oven", "hot oil", "hot plate", "flame"))]
Poisson = Annotated[float, Num(above=0, most=0.5)]
FilmFriction = Annotated[float, Num(least=0, most=0.2)]


class MeasuredFit(Table):
    """Diameters as measured, two planes by two directions, at one temperature."""

    shaft: Annotated[tuple[float, ...], Many(Dim("length", above=0), least=1, most=16)] | None = declare(
        "Shaft diameters", example=["160.182 mm", "160.180 mm"]
    )
    hub: Annotated[tuple[float, ...], Many(Dim("length", above=0), least=1, most=16)] | None = declare(
        "Hub bore diameters", example=["160.002 mm", "160.001 mm"]
    )
    temperature: Temperature | None = declare("Temperature of both parts", example="21 degC")
    by: Text | None = declare("Who measured", example="fitter")


class Fit(Table):
    """One interference fit; all diameters and the interference are diametral."""

    id: Id = require("Id of the fit: lower-case letters, digits, hyphens", example="thrust-collar")
    title: Text = require("Title printed on screens and sheets", example="Thrust collar")
    notes: Text | None = declare("Notes")
    part: PartName | None = declare(
        "What the outer part is called on screens and sheets", shown_default="hub", example="collar"
    )
    shaft_diameter: Length | None = declare(
        "Fit diameter; mean over the length for a taper", needs="contact_pressure", example="160 mm"
    )
    shaft_bore: Gap | None = declare(
        "Bore of the shaft", shown_default="0 mm", errs="solid shaft: stiffer, more pressure", example="20 mm"
    )
    hub_outer: Length | None = declare("Outer diameter of the hub", needs="contact_pressure", example="250 mm")
    length: Length | None = declare("Length of contact", needs="torque_capacity", example="90 mm")
    interference: Length | None = declare("Diametral interference", needs="contact_pressure", example="0.18 mm")
    interference_min: Gap | None = declare("Least diametral interference", needs="contact_pressure", example="0.16 mm")
    interference_max: Length | None = declare(
        "Greatest diametral interference", needs="contact_pressure", example="0.20 mm"
    )
    advance: Length | None = declare(
        "Drawn advance on the taper, from the witnessed zero", needs="contact_pressure", example="5.4 mm"
    )
    advance_tolerance: Gap | None = declare(
        "± tolerance of the advance",
        shown_default="0 mm",
        errs="none: the drawing's tolerance must be given",
        example="0.2 mm",
    )
    taper: Annotated[float, TAPER] | None = declare(
        'Taper on diameter, as "1:30", "0.75 in/ft" or "half-angle 0.955 deg"; left out: cylindrical', needs="advance"
    )
    seating_load: Annotated[float, Dim("force", above=0)] | None = declare(
        "Load with which a taper is seated dry for its zero", example="2 kN"
    )
    gauge_distance: Length | None = declare(
        "Distance between the two planes in which the diameters of a taper are measured; plane 1 is the large end",
        needs="tapers",
        example="60 mm",
    )
    taper_tolerance: Length | None = declare(
        "Greatest difference of both tapers over the length of contact, on diameter",
        shown_default="a tenth of the least interference",
        errs="a bound of our own: the drawing governs",
        source="no published source",
        example="0.01 mm",
    )
    shaft_material: Annotated[str, Words("materials")] | None = declare(
        "Shaft material from the library", example="34CrNiMo6, quenched and tempered"
    )
    hub_material: Annotated[str, Words("materials")] | None = declare(
        "Hub material from the library", example="42CrMo4, quenched and tempered"
    )
    shaft_modulus: Modulus | None = declare("Modulus of the shaft", needs="contact_pressure", example="205 GPa")
    shaft_poisson: Poisson | None = declare(
        "Poisson's ratio of the shaft", shown_default="from the material, else 0.3", example=0.3
    )
    shaft_density: Density | None = declare(
        "Density of the shaft", needs="contact_pressure_at_speed", example="7850 kg/m^3"
    )
    shaft_expansion: Expansion | None = declare("Expansion of the shaft", needs="heating_rise", example="11.5e-6 1/K")
    shaft_yield: Stress | None = declare("Yield strength of the shaft", needs="shaft_stress", example="700 MPa")
    hub_modulus: Modulus | None = declare("Modulus of the hub", needs="contact_pressure", example="205 GPa")
    hub_poisson: Poisson | None = declare(
        "Poisson's ratio of the hub", shown_default="from the material, else 0.3", example=0.3
    )
    hub_density: Density | None = declare(
        "Density of the hub", needs="contact_pressure_at_speed", example="7850 kg/m^3"
    )
    hub_expansion: Expansion | None = declare("Expansion of the hub", needs="heating_rise", example="11.5e-6 1/K")
    hub_yield: Stress | None = declare("Yield strength of the hub", needs="hub_stress", example="700 MPa")
    smoothing: Gap | None = declare(
        "Diametral loss by smoothing of the surfaces",
        shown_default="0 mm",
        errs="optimistic for grip: measured surfaces govern",
        example="0.005 mm",
    )
    hub_roughness: Gap | None = declare(
        "Roughness Rz of the bore, gives the smoothing where that is not given", example="6.3 um"
    )
    shaft_roughness: Gap | None = declare(
        "Roughness Rz of the shaft, gives the smoothing where that is not given", example="4 um"
    )
    friction: Friction | None = declare("Grip friction", usual="0.12 to 0.20", needs="torque_capacity", example=0.12)
    friction_mounting: FilmFriction | None = declare(
        "Friction on the oil film while mounting",
        usual="0.005 to 0.02",
        shown_default="0.02",
        errs="safe: the greater ram force",
        example=0.02,
    )
    speed: Speed | None = declare(
        "Running speed; use the trip speed", needs="contact_pressure_at_speed", example="11000 rpm"
    )
    hub_temperature: Temperature | None = declare(
        "Running temperature of the hub",
        shown_default="as the shaft",
        errs="no difference between hub and shaft",
        example="80 degC",
    )
    shaft_temperature: Temperature | None = declare(
        "Running temperature of the shaft",
        shown_default="as the hub",
        errs="no difference between hub and shaft",
        example="70 degC",
    )
    assembly_temperature: Temperature | None = declare(
        "Temperature at which the diameters were measured", shown_default="20 degC", errs="usual", example="20 degC"
    )
    torque: Annotated[float, Dim("torque", least=0)] | None = declare("Peak torque", needs="grip", example="12 kN*m")
    axial: Annotated[float, Dim("force", least=0)] | None = declare("Peak axial force", needs="grip", example="60 kN")
    grip_factor: Factor | None = declare(
        "Wanted capacity over duty", shown_default="1.5", errs="customary margin", example=1.5
    )
    locates: YesNo | None = declare(
        "Whether this fit only locates: torque and axial force go through a key, a shoulder or a nut",
        shown_default="false",
    )
    keys: Annotated[int, Num(least=1, most=2, whole=True)] | None = declare(
        "Number of keys that take the torque",
        shown_default="1",
        errs="safe: one key",
        source="two count for 1.5, common practice, no published source",
        example=1,
    )
    key_width: Length | None = declare("Width of the key", needs="key", example="28 mm")
    key_height: Length | None = declare("Height of the key, half of it in each part", needs="key", example="16 mm")
    key_length: Length | None = declare("Length over which the key bears", needs="key", example="90 mm")
    key_yield: Stress | None = declare("Yield strength of the key", needs="key", example="350 MPa")
    shoulder_diameter: Length | None = declare(
        "Outer diameter of the shoulder the part stands against", needs="held_axially", example="120 mm"
    )
    nut_torque: Torque | None = declare(
        "Torque of the nut that holds the part", needs="held_axially", example="400 N*m"
    )
    nut_thread: Length | None = declare("Thread diameter of that nut", needs="held_axially", example="95 mm")
    shoulder_gap: Length | None = declare("Greatest gap to the shoulder after mounting, by feeler", example="0.03 mm")
    face_runout: Length | None = declare("Greatest face runout of the mounted part", example="0.01 mm")
    mounting: Mounting | None = declare("oil, heat or press", needs="expansion_pressure heating_rise")
    oil_hold: Time | None = declare(
        "Time the ram holds after the bore pressure is off",
        shown_default="10 min",
        errs="customary least",
        source="common practice, no published source",
        example="10 min",
    )
    drain: Time | None = declare(
        "Wait for oil to drain before any torque",
        shown_default="2 h",
        errs="customary least",
        source="common practice, no published source",
        example="2 h",
    )
    max_expansion_pressure: PressureAboveZero | None = declare(
        "Limit of the bore pressure from the drawing", needs="expansion_pressure", example="2000 bar"
    )
    oil_ratio: Annotated[float, Num(least=1, most=4)] | None = declare(
        "Oil pressure over contact pressure that parts the fit, from the maker or a trial",
        shown_default="by its shape, 1.6 to 2.0",
        errs="safe: the worst seals studied",
        source="axisymmetric finite elements, in the tests",
        example=1.6,
    )
    max_pump_pressure: PressureAboveZero | None = declare(
        "Greatest pressure of the pump, where it is less than the drawing's limit", example="1500 bar"
    )
    max_ram_force: Annotated[float, Dim("force", above=0)] | None = declare("Limit of the ram force", example="400 kN")
    ram_area: Annotated[float, Dim("area", above=0)] | None = declare(
        "Area of the ram, gives its pressure", example="5000 mm^2"
    )
    max_ram_pressure: PressureAboveZero | None = declare("Limit of the ram pressure", example="700 bar")
    stop_dimension: Length | None = declare(
        "Drawn dimension at which the hub stops, from the face the zero is read from", example="42.5 mm"
    )
    stop_tolerance: Length | None = declare(
        "± tolerance of the stop dimension", needs="stop_dimension", example="0.1 mm"
    )
    handling_gap: Gap | None = declare(
        "Gap for hot fitting",
        shown_default="0.001 d",
        errs="customary; a larger one needs a hotter hub",
        source="common practice, no published source",
        example="0.16 mm",
    )
    max_temperature: Temperature | None = declare(
        "Highest temperature the hub may see",
        usual="200 to 230 degC low-alloy steel",
        source="common practice, no published source",
        needs="heating_rise",
        example="220 degC",
    )
    ambient: Temperature | None = declare(
        "Temperature of the shaft at hot fitting",
        shown_default="20 degC",
        errs="usual; a warmer shaft needs a hotter hub",
        example="20 degC",
    )
    shaft_cooled_to: Temperature | None = declare(
        "Temperature to which the shaft is cooled for fitting, where it is", example="-70 degC"
    )
    carry: Time | None = declare("Time from heater to seat", example="2 min")
    least_gap: Gap | None = declare(
        "Least gap that may be left when it reaches the seat",
        shown_default="half the handling gap",
        errs="safe: less time to carry",
        source="a bound of our own, no published source",
        example="0.08 mm",
    )
    heat_by: HeatBy | None = declare("What heats it: induction, oven, hot oil, hot plate or flame", example="induction")
    heater: Text | None = declare("What it is heated with and how", example="induction, both sides, 60 min")
    oil_ported: YesNo | None = declare("Whether a hub mounted by heat has ports for oil, for removal")
    measured: MeasuredFit | None = declare("Measured diameters; on-site if absent")

    @model_validator(mode="after")
    def _one_interference(self) -> "Fit":
        said = []
        forms = {
            "interference": self.interference is not None,
            "interference_min and interference_max": self.interference_min is not None
            or self.interference_max is not None,
            "advance": self.advance is not None,
        }
        given = [name for name, there in forms.items() if there]
        if len(given) > 1:
            said.append(f"only one way to say the interference can stand; {' and '.join(given)} are given: keep one")
        low, high = self.interference_min, self.interference_max
        if low is not None and high is not None and low > high:
            said.append("interference_min is more than interference_max")
        if self.advance is not None and self.taper is None:
            said.append('advance needs a taper, as in taper = "1:30"')
        if self.gauge_distance is not None and self.taper is None:
            said.append('gauge_distance needs a taper, as in taper = "1:30"')
        if self.smoothing is not None and (self.hub_roughness is not None or self.shaft_roughness is not None):
            said.append("give either smoothing or the roughnesses, not both")
        d, bore, outer = self.shaft_diameter, self.shaft_bore, self.hub_outer
        if d is not None and bore is not None and bore >= d:
            said.append("shaft_bore must be less than shaft_diameter")
        if d is not None and outer is not None and outer <= d:
            said.append("hub_outer must be more than shaft_diameter")
        for name in ("interference", "interference_max"):
            value = getattr(self, name)
            if d is not None and value is not None and value > 0.02 * d:
                said.append(f"{name} is more than 2 % of the diameter: is the unit right?")
        if said:
            raise wrong("; ".join(said))
        return self
