#!/usr/bin/env python3
"""Makes the grids that the tests of the physics are held against, with general-purpose libraries of others.

Run by hand: `python3 tests/outside/grid.py`. It installs the libraries into a folder that it throws away, and writes
`tests/outside/data/grid_*.csv`. The tests need the files alone.
"""
import pathlib
import subprocess
import sys
import tempfile
import venv

LIBRARIES = ["ambiance", "fluids", "aerocalc3", "pint"]
DATA = pathlib.Path(__file__).resolve().parent / "data"
FOOT = 0.3048
EARTH = 6356766.0  # m, the radius by which both libraries turn geometric height into geopotential


def in_a_fresh_environment():
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        python = pathlib.Path(folder) / "bin" / "python"
        subprocess.run([python, "-m", "pip", "install", "--quiet", *LIBRARIES], check=True)
        subprocess.run([python, __file__, "--here"], check=True)


def version(name):
    from importlib.metadata import version as of
    return f"{name} {of(name)}"


def write(name, comment, heading, rows):
    lines = [f"# {comment} Made by grid.py.", heading]
    lines += [",".join(str(c) if isinstance(c, (str, int)) else f"{c:.12g}" for c in row) for row in rows]
    (DATA / name).write_text("\n".join(lines) + "\n")


def atmosphere():
    from ambiance import Atmosphere
    from fluids.atmosphere import ATMOSPHERE_1976
    rows = []
    for altitude in [*range(-2000, 36000, 1000), 36089, *range(37000, 64000, 3000)]:
        geopotential = altitude * FOOT
        geometric = geopotential * EARTH / (EARTH - geopotential)
        a, f = Atmosphere(geometric), ATMOSPHERE_1976(geometric)
        first = [float(x[0]) for x in (a.temperature, a.pressure, a.density)]
        rows.append([altitude, *first, f.T, f.P, f.rho])
    write("grid_atmosphere.csv",
          f"Standard atmosphere by {version('ambiance')} and {version('fluids')}; geopotential altitude.",
          "altitude_ft,ambiance_K,ambiance_Pa,ambiance_kg_m3,fluids_K,fluids_Pa,fluids_kg_m3", rows)


def airspeed():
    from aerocalc3 import airspeed as speeds
    rows = []
    for altitude in range(0, 22000, 2000):
        for cas in range(40, 220, 20):
            impact = speeds.cas2dp(cas, speed_units="kt", press_units="pa")
            rows.append([altitude, cas, impact, speeds.cas2tas(cas, altitude, temp="std"),
                         speeds.dp2cas(impact, press_units="pa", speed_units="kt")])
    write("grid_airspeed.csv",
          f"Impact pressure and true airspeed by {version('aerocalc3')}, standard temperature.",
          "altitude_ft,cas_kt,impact_Pa,tas_kt,cas_back_kt", rows)


def altimeter():
    from aerocalc3 import std_atm
    rows = []
    for inches in (28.5, 29.0, 29.5, 29.92126, 30.3, 30.8):
        for altitude in range(0, 16000, 1000):
            pressure = std_atm.alt2press(altitude, press_units="pa")
            shift = std_atm.press2alt(inches, press_units="in HG")
            rows.append([pressure, inches, altitude - shift])
    write("grid_altimeter.csv",
          f"Altitude shown at a static pressure and a setting by {version('aerocalc3')}: pressure altitude less that of the setting.",
          "static_Pa,setting_inHg,shown_ft", rows)


def units():
    import pint
    registry = pint.UnitRegistry()
    pairs = [("V", "volt"), ("A", "ampere"), ("Ah", "ampere_hour"), ("W", "watt"), ("ohm", "ohm"), ("hPa", "hectopascal"),
             ("inHg", "inch_Hg"), ("psi", "pound_force_per_square_inch"), ("kt", "knot"), ("mph", "mile_per_hour"),
             ("ft", "foot"), ("in", "inch"), ("mm", "millimeter"), ("h", "hour"), ("min", "minute"),
             ("gal", "gallon"), ("L", "liter"), ("lb", "pound"), ("ft/min", "foot / minute"),
             ("lb/h", "pound / hour"), ("gph", "gallon / hour"), ("MHz", "megahertz"), ("kHz", "kilohertz")]
    rows = [[symbol, registry(name).to_base_units().magnitude * scale(registry, name)] for symbol, name in pairs]
    write("grid_units.csv", f"SI units in one of each by {version('pint')}.", "unit,si", rows)


def scale(registry, name):
    """Base units hold grams in some versions; the tests want kilograms."""
    base = str(registry(name).to_base_units().units)
    return 1e-3 if "gram" in base and "kilogram" not in base else 1.0


if __name__ == "__main__":
    if "--here" in sys.argv:
        for make in (atmosphere, airspeed, altimeter, units):
            make()
    else:
        in_a_fresh_environment()
