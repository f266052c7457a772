"""Torque, bolt and lifting plans on split casings."""

__version__ = "0.1.0"
