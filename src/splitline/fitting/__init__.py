"""Interference fits, bundle insertion, clearances and time windows: pure functions on SI floats.

Everywhere in this room a size is a **diameter** and an interference is **diametral** (the difference of two diameters).
Formulas printed with radii take radial interference, half of ours; mixing the two doubles or halves every pressure.
"""
