"""Units against pint, a general-purpose units library, and inch fractions against Python's fractions.

Base units here are mm, g, K, W, rad; pint is asked for the same.
"""

import fractions
import random

import pint
import pytest

from harness import FRAME, build_text, fact

UREG = pint.UnitRegistry()
UREG.define("clo = 0.155 kelvin * meter ** 2 / watt")  # read: several public definitions of the clo
UREG.define("tog = 0.1 kelvin * meter ** 2 / watt")  # from memory

LENGTH, AREA, VOLUME = "mm", "mm**2", "mm**3"

#: (as a maker writes it, as pint knows it, base unit)
CONVERSIONS = [
    ("1 mm", "1 mm", LENGTH),
    ("1 cm", "1 cm", LENGTH),
    ("2.5 m", "2.5 m", LENGTH),
    ("1 km", "1 km", LENGTH),
    ("1 in", "1 inch", LENGTH),
    ("3 ft", "3 foot", LENGTH),
    ("1.75 yd", "1.75 yard", LENGTH),
    ("5 ft 10 in", "70 inch", LENGTH),
    ("1 mm2", "1 mm**2", AREA),
    ("7 cm2", "7 cm**2", AREA),
    ("1 m2", "1 m**2", AREA),
    ("3 in2", "3 inch**2", AREA),
    ("2 ft2", "2 foot**2", AREA),
    ("1 yd2", "1 yard**2", AREA),
    ("1 cm3", "1 cm**3", VOLUME),
    ("1 m3", "1 m**3", VOLUME),
    ("12 l", "12 liter", VOLUME),
    ("250 ml", "250 milliliter", VOLUME),
    ("1 in3", "1 inch**3", VOLUME),
    ("1 ft3", "1 foot**3", VOLUME),
    ("30 deg", "30 degree", "radian"),
    ("2 rad", "2 radian", "radian"),
    ("1 mg", "1 milligram", "g"),
    ("13 g", "13 gram", "g"),
    ("2 kg", "2 kilogram", "g"),
    ("1 oz", "1 ounce", "g"),
    ("1 lb", "1 pound", "g"),
    ("34 g/m2", "34 g/m**2", "g/mm**2"),
    ("1 oz/yd2", "1 ounce/yard**2", "g/mm**2"),
    ("1 kg/m2", "1 kg/m**2", "g/mm**2"),
    ("7 g/m", "7 g/m", "g/mm"),
    ("1 oz/yd", "1 ounce/yard", "g/mm"),
    ("27 tex", "27 gram/kilometer", "g/mm"),
    ("40 den", "40 gram/(9 kilometer)", "g/mm"),
    ("90 dtex", "90 gram/(10 kilometer)", "g/mm"),
    ("4 degC", "277.15 kelvin", "kelvin"),
    ("50 degF", "(50 + 459.67) * 5 / 9 kelvin", "kelvin"),
    ("20 K", "20 kelvin", "kelvin"),
    ("0.6 m2K/W", "0.6 kelvin*m**2/W", "kelvin*mm**2/W"),
    ("2 clo", "2 clo", "kelvin*mm**2/W"),
    ("5 tog", "5 tog", "kelvin*mm**2/W"),
    ("800 cuin/oz", "800 inch**3/ounce", "mm**3/g"),
    ("500 cm3/g", "500 cm**3/g", "mm**3/g"),
    ("40%", "0.4", ""),
    ("40 W", "40 watt", "watt"),
    ("1 gal", "1 gallon", VOLUME),
]


@pytest.fixture(scope="module")
def figures(tmp_path_factory):
    items = "\n".join(f"  let u{i} = {text}" for i, (text, _, _) in enumerate(CONVERSIONS))
    designs = build_text(FRAME.format(items=items), tmp_path_factory.mktemp("units"))
    return next(iter(designs.values()))


def test_there_are_enough():
    assert len(CONVERSIONS) >= 40


@pytest.mark.parametrize("index", range(len(CONVERSIONS)), ids=[c[0] for c in CONVERSIONS])
def test_conversion(figures, index):
    _, theirs, base = CONVERSIONS[index]
    expected = UREG.Quantity(UREG.parse_expression(theirs)).to(base).magnitude
    assert fact(figures, f"u{index}") == pytest.approx(expected, rel=1e-7)


def test_areal_mass_as_published(figures):
    # 28.349523125 / 0.83612736, computed from the legal definitions of ounce and yard.
    index = next(i for i, c in enumerate(CONVERSIONS) if c[0] == "1 oz/yd2")
    assert fact(figures, f"u{index}") * 1e6 == pytest.approx(33.9057475, abs=1e-6)


def test_inch_fractions(tmp_path):
    dice = random.Random(7)
    cases = []
    for _ in range(60):
        whole, over = dice.randrange(0, 90), dice.choice([2, 4, 8, 16, 32])
        part = dice.randrange(1, over)
        text = f"{whole} {part}/{over} in" if whole else f"{part}/{over} in"
        cases.append((text, whole + fractions.Fraction(part, over)))
    items = "\n".join(f"  let f{i} = {text}" for i, (text, _) in enumerate(cases))
    design = next(iter(build_text(FRAME.format(items=items), tmp_path).values()))
    for i, (text, exact) in enumerate(cases):
        millimetres = exact * fractions.Fraction(254, 10)
        assert fact(design, f"f{i}") == pytest.approx(float(millimetres), abs=5e-5), text
