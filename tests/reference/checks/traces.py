"""Traces: every step of the worked fields, worked out again from its own formula and inputs."""
import json
import math
from collections import Counter
from pathlib import Path

from scipy import stats
from ucumvert import PintUcumRegistry

from compare import check, random
from formula import NotAFormula, result_symbol, work_out

UCUM = PintUcumRegistry()
# 8.25, 375 and the acre of 43,560 square feet are rounded in the books: 4 parts in a million.
ALLOWED = 1e-5
VARIATIONS = 400
PAGE = Path(__file__).parents[3] / "domain/examples/worked_fields/output.txt"
# A figure of a table or of the grower: nothing to work out, but something to look up.
STATES = {
    "s_m of dry soil": "soil_dry",
    "s_m of slightly moist soil": "soil_slightly_moist",
    "s_m of moist soil": "soil_moist",
    "s_m of wet soil": "soil_wet",
    "s_m of dry soil of fine texture, which sets hard": "soil_hard_dry",
}
# Most N + K2O with the seed of corn on soil that is not sandy, lb/ac by row width in inches (Kansas State
# University eUpdate article 3091): a table, shown as the function of its one input.
SALT_LIMIT = {40.0: 6.0, 30.0: 8.0, 20.0: 12.0}


def plain(number, unit):
    """A bare number in the unit shown; an angle in radians, as functions want it."""
    return math.radians(number) if unit == "deg" else number


def measured(number, unit):
    """A number with its unit, so that the units have to come out right too."""
    return number if unit == "1" else UCUM.Quantity(number, UCUM.from_ucum(unit).units)


def by_numbers(step):
    return work_out(step, plain)


def by_units(step):
    found = work_out(step, measured)
    unit = UCUM.from_ucum(step["unit"]).units if step["unit"] != "1" else ""
    return UCUM.Quantity(found).to(unit).magnitude


def agrees(step, found):
    return math.isclose(found, step["value"], rel_tol=ALLOWED, abs_tol=1e-9)


def rows_to_dig(s_row, half_width, confidence, least, rows_of_the_planter):
    """The fewest rows whose mean has an interval no wider than wanted; all of them where none will do."""
    enough = (
        rows
        for rows in range(2, int(rows_of_the_planter) + 1)
        if stats.t.isf((1 - confidence) / 2, rows - 1) * s_row / rows**0.5 <= half_width * (1 + 1e-9)
    )
    return min(max(next(enough, rows_of_the_planter), least), rows_of_the_planter)


def follow(step, looked_up):
    """How a step comes out: `numbers`, `units` or `table`; anything else is an error."""
    if not step["inputs"]:
        assert step["formula"] in looked_up, f"nobody can follow {step}"
        assert agrees(step, looked_up[step["formula"]]), step
        return "table"
    if step["formula"] == "Q(W)":
        assert agrees(step, SALT_LIMIT[round(step["inputs"][0]["value"], 6)]), step
        return "table"
    if step["formula"].startswith("the fewest with "):
        assert rows_to_dig(**{i["symbol"].replace(" ", "_"): i["value"] for i in step["inputs"]}) == step["value"], step
        return "numbers"
    tries = []
    for way, work in (("numbers", by_numbers), ("units", by_units)):
        try:
            found = work(step)
        except NotAFormula:
            raise
        except Exception as error:  # a formula with rounded constants has no units that come out
            tries.append(f"{way}: {error}")
            continue
        if agrees(step, found):
            return way
        tries.append(f"{way}: {found}")
    raise AssertionError(f"{step}\n  worked out again: {tries}")


def steps_of(value):
    """All steps below a value."""
    if isinstance(value, dict):
        if "formula" in value and "inputs" in value:
            yield value
        else:
            for below in value.values():
                yield from steps_of(below)
    elif isinstance(value, list):
        for below in value:
            yield from steps_of(below)


def chained(steps):
    """What one step of the balance gives is what a later one takes, by the same symbol."""
    given, links = {}, 0
    for step in steps:
        for taken in step["inputs"]:
            if taken["symbol"] in given:
                earlier = given[taken["symbol"]]
                assert math.isclose(taken["value"], earlier, rel_tol=1e-12, abs_tol=1e-9), (step, earlier)
                links += 1
        name = result_symbol(step)
        # A coulter on the frame does not lift the unit: the balance then takes 0.
        if name and "carried by the frame" not in step["step"]:
            given[name] = step["value"]
    return links


def follow_all(results, coefficients):
    """Counts of steps by the way they came out."""
    ways = Counter()
    for inputs, result in results:
        looked_up = {text: coefficients[name] for text, name in STATES.items()}
        looked_up["as measured"] = inputs["field"]["residue_cover"]
        steps = list(steps_of(result))
        assert len(steps) >= 15, "a recommendation shows its calculation"
        for step in steps:
            ways[follow(step, looked_up)] += 1
        ways["links"] += chained(result["trace"])
    return ways


def tell(report, what, ways):
    total = ways["numbers"] + ways["units"] + ways["table"]
    told = f"{ways['numbers']} by the numbers shown, {ways['units']} with their units, {ways['table']} looked up"
    report.note(what, total, f"{told}; {ways['links']} links between steps; allowed {ALLOWED:g} of it")


@check(["pint", "ucumvert", "scipy"])
def worked_fields(domain, report):
    """Traces of the three worked fields, by an independent reader of the formulas"""
    printed = json.loads(domain.run("worked_fields", "", "--json"))
    coefficients = {k["name"]: k["value"] for k in printed["coefficients"]}
    assert len(printed["fields"]) == 3
    for field in printed["fields"]:
        tell(report, field["name"], follow_all([(field["inputs"], field["result"])], coefficients))


@check([])
def committed_page(domain, report):
    """The worked fields as committed are what the example prints"""
    ours, committed = (text.splitlines() for text in (domain.run("worked_fields"), PAGE.read_text(encoding="utf-8")))
    again = f"cargo run -p domain --example worked_fields > {PAGE.relative_to(Path(__file__).parents[3])}"
    assert ours == committed, f"the engine changed; print the page again: {again}"
    report.same("lines", ours, committed, list(range(1, len(ours) + 1)))


@check(["pint", "ucumvert", "scipy"])
def fields_like_them(domain, report):
    """Traces of fields like the worked ones: other soil, cover, residue, depth and speed"""
    printed = json.loads(domain.run("worked_fields", "", "--json"))
    coefficients = {k["name"]: k["value"] for k in printed["coefficients"]}
    rng = random("traces")
    inputs = [varied(rng, printed["fields"][n % 3]["inputs"]) for n in range(VARIATIONS)]
    answers = domain.ask("recommend", [(one,) for one in inputs])
    tell(report, f"{VARIATIONS} fields", follow_all(list(zip(inputs, answers)), coefficients))


def varied(rng, inputs):
    """The same planter in another field, at another depth and speed; SI units as stored."""
    changed = json.loads(json.dumps(inputs))
    field, goals = changed["field"], changed["goals"]
    field["moisture"] = str(rng.choice(["dry", "slightly_moist", "moist", "wet"]))
    field["texture"] = str(rng.choice(["loam", "clay_loam", "silt_loam", "silty_clay_loam", "clay"]))
    field["penetration"] = None if rng.random() < 0.5 else float(rng.uniform(0.2e6, 4e6))
    field["strength_class"] = str(rng.choice(["loose", "good", "firm", "hard"])) if rng.random() < 0.3 else None
    field["previous_crop"] = str(rng.choice(["corn", "soybean", "wheat"]))
    field["previous_yield_bu_ac"] = float(rng.uniform(20.0, 260.0))
    field["residue_cover"] = float(rng.uniform(0.0, 1.0)) if rng.random() < 0.2 else None
    if field["cover"]:
        field["cover"]["height"] = float(rng.uniform(0.05, 1.8))
        field["cover"]["ground_cover"] = float(rng.uniform(0.05, 1.0))
        if rng.random() < 0.7:
            field["cover"]["clip"] = None
    goals["depth"] = float(rng.uniform(0.025, 0.09))
    goals["speed"] = float(rng.uniform(1.0, 4.0))
    return changed
