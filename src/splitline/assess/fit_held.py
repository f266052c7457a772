"""Keyed hubs, parts on a shoulder, parts held by a nut: what carries torque and axial force besides friction."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.fit_inputs import Given
from splitline.fitting.held import (
    NUT_FACTOR,
    key_bearing_torque,
    key_shear_torque,
    nut_force,
    shoulder_pressure,
)
from splitline.plan.model import Fit

FACTOR = 1.5
KEY_BASIS = "Shigley §7-7: shear 0.577 of yield, bearing on half the height; the key alone takes the whole torque"
KEY = ("key_width", "key_height", "key_length", "key_yield")


def keyed(fit: Fit) -> bool:
    """Whether the plan says that a key takes the torque."""
    return any(getattr(fit, name) is not None for name in KEY)


def clamped(fit: Fit) -> bool:
    """Whether the plan says that a shoulder or a nut takes the axial force."""
    return any(value is not None for value in (fit.shoulder_diameter, fit.nut_torque, fit.nut_thread))


def held(given: Given, bench: Bench) -> None:
    """Checks of key, shoulder and nut; missing where a fit that only locates has a duty and nothing to carry it."""
    fit = given.fit
    factor = fit.grip_factor
    if factor is None and (keyed(fit) or clamped(fit)):
        factor = FACTOR
        bench.default("grip_factor", "1.5", "common practice, no published source")
    wanted = factor or FACTOR
    if keyed(fit) or (fit.locates and fit.torque):
        _key(given, wanted, bench)
    if clamped(fit) or (fit.locates and fit.axial):
        _axial(given, wanted, bench)


def _key(given: Given, factor: float, bench: Bench) -> None:
    fit, d = given.fit, given.pair.diameter
    needs = [name for name in (*KEY, "torque") if getattr(fit, name) is None]
    if needs or fit.torque is None:
        bench.missing("key", "Key under the torque", needs, KEY_BASIS, sense="at least", kind="torque")
        return
    width, height, length, strength = (float(getattr(fit, name)) for name in KEY)
    keys = fit.keys or 1
    softest = min(s for s in (strength, given.hub.yield_strength, given.shaft.yield_strength) if s is not None)
    puts = {"w": (width, "length"), "h": (height, "length"), "L": (length, "length"), "d": (d, "length")}
    with bench.guard("key", "Key under the torque", KEY_BASIS):
        shear = bench.put("key_shear_torque", key_shear_torque(d, width, length, strength, keys), puts)
        bear = bench.put("key_bearing_torque", key_bearing_torque(d, height, length, softest, keys), puts)
        if fit.torque == 0:
            bench.passes("key_shear", "Key in shear", KEY_BASIS, "torque is 0", sense="at least")
            return
        bench.at_least("key_shear", "Key in shear", factor * fit.torque, shear, "torque", KEY_BASIS)
        bench.at_least("key_bearing", "Sides of key and keyway", factor * fit.torque, bear, "torque", KEY_BASIS)


def _axial(given: Given, factor: float, bench: Bench) -> None:
    """One way the shoulder holds, the other way the nut: the axial force may come from either side."""
    fit, d = given.fit, given.pair.diameter
    title, basis = "Shoulder and nut under the axial force", "either way round: the shoulder one way, the nut the other"
    if fit.axial == 0 and fit.nut_torque is None and fit.nut_thread is None:
        bench.passes("held_axially", title, basis, "axial force is 0: the shoulder only sets the place")
        return
    needs = [n for n in ("shoulder_diameter", "nut_torque", "nut_thread", "axial") if getattr(fit, n) is None]
    if needs or fit.axial is None:
        bench.missing("held_axially", title, needs, basis, kind="force")
        return
    shoulder, torque, thread = fit.shoulder_diameter or 0.0, fit.nut_torque or 0.0, fit.nut_thread or 0.0
    bench.default("nut_factor", f"{NUT_FACTOR:g}", "torque over preload and diameter, Shigley §8-8")
    with bench.guard("held_axially", title, basis):
        clamp = bench.put("nut_force", nut_force(torque, thread), {"T": (torque, "torque"), "d": (thread, "length")})
        strengths = [s for s in (given.hub.yield_strength, given.shaft.yield_strength) if s is not None]
        pressed = bench.put("shoulder_pressure", shoulder_pressure(fit.axial + clamp, shoulder, d),
                            {"F": (fit.axial + clamp, "force"), "D_s": (shoulder, "length"), "d": (d, "length")})  # fmt: skip
        if len(strengths) < 2:
            lacking = [
                f"{n}_yield" for n, side in (("hub", given.hub), ("shaft", given.shaft)) if side.yield_strength is None
            ]
            bench.missing("shoulder", "Pressure on the shoulder", lacking, basis, kind="stress")
        else:
            bench.at_most("shoulder", "Pressure on the shoulder", pressed, min(strengths), "stress", basis)
        if fit.axial > 0:
            bench.at_least(
                "nut_force", "Clamp of the nut over the axial force", factor * fit.axial, clamp, "force", basis
            )
