"""Invented growers, farms, fields, planters and yields, for all stand-ins alike."""

ACRE = 4046.8564224
GROWERS = ["Hollow Gate Farming", "Orla Venn", "Two Rivers Growers"]
FARMS = [("Home place", 0), ("East quarter", 0), ("Venn's hill", 1), ("River bottom", 2), ("Old school", 2)]
PLANTERS = [("The long bar", 0, 12, 30), ("The short bar", 2, 8, 30)]
NAMES = ["North", "South", "East", "West", "Middle", "Corner", "Creek", "Road", "Barn", "Pond", "Ridge", "Gate"]
WIDTH, HEIGHT = 0.00483, 0.003597


def ring(number):
    """A rectangle of about 39.5 acres, each somewhere else; longitude first."""
    west, south = -93.6 + 0.006 * (number % 100), 42.0 + 0.005 * (number // 100)
    east, north = west + WIDTH, south + HEIGHT
    corners = [(west, south), (east, south), (east, north), (west, north), (west, south)]
    return [[round(longitude, 7), round(latitude, 7)] for longitude, latitude in corners]


def fields(count):
    """Number, name, farm, ring and area in acres of each field."""
    for number in range(count):
        name = NAMES[number % len(NAMES)] + (f" {number // len(NAMES) + 1}" if number >= len(NAMES) else "")
        # The land inside such a rectangle shrinks to the north, by less than a twentieth in this land.
        yield number, name, number % len(FARMS), ring(number), 39.5


def yields():
    """Number, field, day, crop, dry yield in t/ha and moisture in percent."""
    return [(1, 0, "2025-10-04", "corn", 11.2, 17.5), (2, 1, "2025-09-28", "soybean", 3.9, 12.8)]
