"""Holds every form of our objects against libraries and schemas that are not ours, and shows that each of them
rejects a broken file. Run by ../run.sh, which says what stands in the environment."""
import copy
import io
import json
import os
import pathlib
import re
import subprocess
import sys
import zipfile

import isoxml_writer
import jsonschema
import lxml.etree
import pyproj
import shapely
import xmlschema
from frictionless import Package
from isoxml.models.ddi_entities import DDEntity
from isoxml.util.isoxml_io import isoxml_from_path

import season
import second_level

HERE = pathlib.Path(__file__).parent
FOLDER = pathlib.Path(os.environ["EXCHANGE_DIR"])
XSD = pathlib.Path(isoxml_writer.__file__).parent / "ISOXML_schema"
TASKS = xmlschema.XMLSchema(str(XSD / "ISO11783_TaskFile_V4-3.xsd"))
LINKS = xmlschema.XMLSchema(str(XSD / "ISO11783_LinkListFile_V4-3.xsd"))
LIBXML = lxml.etree.XMLSchema(file=str(XSD / "ISO11783_TaskFile_V4-3.xsd"))
ADAPT = jsonschema.Draft202012Validator(
    second_level.SCHEMA, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
)
ELLIPSOID = pyproj.Geod(ellps="WGS84")
checks = 0


def holds(truth, words):
    """Counts a check, and ends the run where it does not hold."""
    global checks
    checks += 1
    if not truth:
        sys.exit(f"does not hold: {words}")


def near(found, wanted, words, parts=5e-6):
    """To a few parts in a million: the acre of UCUM is the old survey acre."""
    holds(abs(float(found) / wanted - 1) < parts, f"{words}: {found}, not {wanted}")


def first_level(data):
    return [f"{list(error.absolute_path)}: {error.message}" for error in ADAPT.iter_errors(data)]


def adapt(user, path, name):
    """A data set without a fault."""
    raw, headers = user.get(path)
    holds(headers["Content-Type"] == "application/json", f"{path} is JSON")
    data = json.loads(raw)
    (FOLDER / f"{name}.json").write_bytes(raw)
    holds(first_level(data) == [], f"{path}: {first_level(data)[:3]}")
    holds(second_level.problems(data) == [], f"{path}: {second_level.problems(data)[:5]}")
    return data


def figures(operation):
    """Code and value of each variable."""
    codes = {it["id"]["referenceId"]: it["definitionCode"] for it in operation["variables"]}
    return {codes[it["variableId"]]: it["valueText"] for it in operation["summaryValues"]}


def one_sheet(user, ids):
    """The figures of a sheet, a planting, a dig and a stand, as published conversions have them."""
    data = adapt(user, f"/v1/recommendations/{ids['sheet_field']}/adapt", "sheet")
    (sheet,) = data["documents"]["recommendations"]
    planting, liquid = sheet["operations"]
    told = figures(planting)
    near(told["AppliedCountPerAreaTarget"], 79_073.722, "32,000 seeds/ac")
    holds(told["SeedingDepthTarget"] == "0.0508", "2 in")
    near(told["Speed"], 2.2352, "5 mph")
    near(told["SeedSpacingTarget"], 6.534 * 0.0254, "seeds at 30 in rows", 1e-4)
    holds(told["DIBBLE_RowSpacing"] == "0.762", "30 in")
    ours = json.loads(user.get(f"/v1/recommendations/{ids['sheet_field']}?units=si")[0])["settings"]
    near(told["DownforceAppliedTarget"], ours["down_force"]["per_row"]["value"], "down force", 0.01)
    near(told["DownforceMargin"], ours["down_force"]["window"]["aim"]["value"], "load", 0.01)
    holds(liquid["operationTypeCode"] == "APPLICATION_FERTILIZING", "starter")
    near(figures(liquid)["AppliedVolumePerAreaTarget"], 46.7698, "5 gal/ac")
    roles = {it["roleCode"] for it in planting["partyRoles"]}
    holds(roles == {"CROP_ADVISOR", "GROWER"}, "who advises whom")
    records = {it["name"].split(":")[0]: it for it in data["documents"]["workRecords"]}
    holds(set(records) == {"Planting", "Dig check", "Stand count"}, f"{set(records)}")
    for name, kind, cause in [
        ("Planting", "CAUSAL", ids["sheet_field"]),
        ("Dig check", "CONTEXTUAL", ids["sheet_field"]),
        ("Stand count", "CONTEXTUAL", ids["planting"]),
    ]:
        (link,) = records[name]["documentCorrelations"]
        wanted = {"documentRelationshipTypeCode": kind, "originatingDocumentId": cause}
        holds(link == wanted, f"{name}: {link}")
    planted = figures(records["Planting"]["operations"][0])
    near(planted["AppliedCountPerAreaActual"], 34_000 / 0.404_685_642_24, "34,000 seeds/ac")
    dug = figures(records["Dig check"]["operations"][0])
    near(dug["SeedingDepthActual"], 0.0254 * (6 * 1.625 + 9 * 1.5) / 15, "mean depth")
    holds(dug["DIBBLE_SeedsMeasured"] == "15", "seeds")
    # Check value P3 holds three times over: shares stay what they are.
    near(dug["SeedSingulation"], 70, "quality of feed", 1e-9)
    near(dug["SeedSkips"], 20, "misses", 1e-9)
    near(dug["SeedDoubles"], 10, "multiples", 1e-9)
    catalog = data["catalog"]
    (boundary,) = catalog["fieldBoundaries"]
    shape = shapely.from_wkt(boundary["boundary"]["geometry"])
    area, _ = ELLIPSOID.geometry_area_perimeter(shape)
    near(area, 159_875.4, "G1", 1e-5)
    near(catalog["fields"][0]["arableArea"]["numericValue"], 15.987_54, "G1 in ha", 1e-5)
    external = [it for it in catalog["fields"][0]["id"]["uniqueIds"] if it["idTypeCode"] == "STRING"]
    holds(external == [{"idText": "F-1042", "idTypeCode": "STRING", "idSource": "records"}], f"{external}")
    return data


def rejects_adapt(data):
    """What each level rejects: the table of defects."""
    def broken(change):
        made = copy.deepcopy(data)
        change(made)
        return made

    def of(made):
        return made["documents"]["recommendations"][0]["operations"][0]

    def geometry(made, change):
        boundary = made["catalog"]["fieldBoundaries"][0]["boundary"]
        boundary["geometry"] = change(boundary["geometry"])

    def swapped(text):
        return re.sub(r"(-?[\d.]+) (-?[\d.]+)", r"\2 \1", text)

    defects = [
        (1, "a field without a name", lambda it: it["catalog"]["fields"][0].pop("name")),
        (1, "a time that is none", lambda it: it["catalog"]["seasons"][0].update(start="yesterday")),
        (1, "a number as text", lambda it: it["catalog"]["fields"][0]["arableArea"].update(numericValue="16")),
        (1, "no version", lambda it: it.pop("rootSchemaVersion")),
        (2, "a product type that is in no list", lambda it: it["catalog"]["products"][0].update(productTypeCode="SEEDS")),
        (2, "a definition that is in no list", lambda it: of(it)["variables"][0].update(definitionCode="SeedRate")),
        (2, "a grower who is not there", lambda it: it["catalog"]["farms"][0].update(growerId="nobody")),
        (2, "an extra member", lambda it: it["catalog"]["farms"][0].update(colour="green")),
        (2, "an operation that is not used any more",
         lambda it: of(it).update(operationTypeCode="APPLICATION_SOWING_AND_PLANTING")),
        (2, "a definition of another scope", lambda it: of(it)["variables"][0].update(definitionCode="ReportedArea")),
        (2, "a value that is no number", lambda it: of(it)["summaryValues"][0].update(valueText="79,073")),
        (2, "a unit that is none", lambda it: it["catalog"]["fields"][0]["arableArea"].update(unitOfMeasureCode="acre")),
        (2, "a time without a zone", lambda it: it["catalog"]["seasons"][0].update(start="2027-01-01T00:00:00+01:00")),
        (2, "latitude first", lambda it: geometry(it, swapped)),
        (2, "a ring that is open", lambda it: geometry(it, lambda text: text.rsplit(",", 1)[0] + "))")),
        (2, "six decimals", lambda it: geometry(it, lambda text: re.sub(r"(\.\d{6})\d", r"\1", text))),
        (2, "another version", lambda it: it.update(rootSchemaVersion="1.0.0")),
        (2, "an id that stands twice",
         lambda it: it["catalog"]["farms"].append(copy.deepcopy(it["catalog"]["farms"][0]))),
    ]
    for level, what, change in defects:
        made = broken(change)
        shape = first_level(made)
        holds(bool(shape) == (level == 1), f"{what} at the first level: {shape[:1]}")
        holds(level == 1 or second_level.problems(made) != [], f"{what} at the second level")
    return len(defects)


def own_rules(text):
    """What the schema of task files does not see."""
    root = lxml.etree.fromstring(text)
    wrong = []
    if root.get("VersionMajor") != "4":
        wrong.append("the version is not 4")
    for element in root.iter("DVC"):
        wrong.append("a machine is described")
    by_id = {it.get("A"): it for kind in ("CTR", "FRM", "CTP", "PFD", "PDT") for it in root.iter(kind)}
    for element, member in [("FRM", "I"), ("PFD", "E"), ("PFD", "F"), ("PFD", "G"), ("TSK", "C"), ("TSK", "D"),
                            ("TSK", "E"), ("PDV", "C")]:
        wrong += [f"{element}@{member} leads nowhere" for it in root.iter(element)
                  if it.get(member) is not None and it.get(member) not in by_id]
    for field in root.iter("PFD"):
        area = 0.0
        for ring in field.iter("LSG"):
            corners = [(float(it.get("D")), float(it.get("C"))) for it in ring.iter("PNT")]
            if corners[0] != corners[-1] or not shapely.Polygon(corners).is_valid:
                wrong.append(f"{field.get('C')}: a ring is not closed and simple")
            if any(not (-180 <= x <= 180 and -90 <= y <= 90) for x, y in corners):
                wrong.append(f"{field.get('C')}: no longitude and latitude")
            size = abs(ELLIPSOID.geometry_area_perimeter(shapely.Polygon(corners))[0])
            area += size if ring.get("A") == "1" else -size
        if area and abs(int(field.get("D")) / area - 1) > 0.01:
            wrong.append(f"{field.get('C')}: area {field.get('D')}, inside {area:.0f}")
    for farm in {it.get("F") for it in root.iter("PFD")}:
        names = [it.get("C") for it in root.iter("PFD") if it.get("F") == farm]
        wrong += ["two fields of one name"] if len(set(names)) < len(names) else []
    for task in root.iter("TSK"):
        zones = {it.get("A") for it in task.iter("TZN")}
        wrong += [f"TSK@{it} is no zone" for it in "HIJ" if task.get(it) is not None and task.get(it) not in zones]
    for value in root.iter("PDV"):
        entry = DDEntity.from_bytes(bytes.fromhex(value.get("A")))
        if "Per Area" in entry.name and value.get("C") is None:
            wrong.append(f"{entry.name} without a product")
    return wrong


def by_schema(text):
    return [str(error.reason) for error in TASKS.iter_errors(io.BytesIO(text))]


def validated(text):
    """Errors of the schema, by two programs, and of our own rules."""
    return by_schema(text), LIBXML.validate(lxml.etree.fromstring(text)), own_rules(text)


def task_data(user, path, name):
    """The files of a zip that holds no fault."""
    raw, headers = user.get(path)
    holds(headers["Content-Type"] == "application/zip", f"{path} is a zip")
    into = FOLDER / name
    into.with_suffix(".zip").write_bytes(raw)
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        holds(archive.testzip() is None, f"{path} is whole")
        archive.extractall(into)
    return into


def values(root, zone=1):
    """DDI and value of a zone, read by the PyPI library."""
    (task,) = root.tasks
    (found,) = [it for it in task.treatment_zones if it.code == zone]
    return {bytes(it.process_data_ddi).hex().upper(): it.process_data_value for it in found.process_data_variables}


def of_task_data(user, ids):
    path = f"/v1/recommendations/{ids['sheet_field']}/task-data"
    into = task_data(user, path, "rate")
    text = (into / "TASKDATA/TASKDATA.XML").read_bytes()
    holds(validated(text) == ([], True, []), f"{path}: {validated(text)}")
    links = list(LINKS.iter_errors(str(into / "TASKDATA/LINKLIST.XML")))
    # Ids of a link list lead into the task file, so that one error a link is right.
    holds(all("IDREF" in str(error.reason) for error in links), f"{[str(it.reason) for it in links][:2]}")
    listed = lxml.etree.parse(str(into / "TASKDATA/LINKLIST.XML")).getroot()
    linked = {it.get("A"): it.get("B") for it in listed.iter("LNK")}
    wanted = {"CTR1": ids["grower"], "FRM1": ids["farm"], "PFD1": ids["field"], "TSK1": ids["sheet_field"]}
    holds(linked == wanted, f"{linked}")
    read, _ = isoxml_from_path(into / "TASKDATA")
    holds(values(read) == {"000B": 7907, "0001": 467_698} or values(read) == {"000B": 7907, "0001": 467_696},
          f"rates: {values(read)}")
    holds(values(read, 0) == {"000B": 0, "0001": 0}, "outside nothing is applied")
    holds(read.partfields[0].area == 159_875, f"area {read.partfields[0].area}")
    notes = (into / "NOTES.txt").read_text(encoding="utf-8")
    for words in ["- depth of the seed", "- down force on each row", "- height of the coulter", "seeding rate (DDI 000B)"]:
        holds(words in notes, f"the notes say {words!r}")

    asked = "?speed_setpoint=true&depth_setpoint=true&down_force_setpoint=true"
    into = task_data(user, path + asked, "all")
    text = (into / "TASKDATA/TASKDATA.XML").read_bytes()
    holds(validated(text) == ([], True, []), f"{path}{asked}: {validated(text)}")
    read, _ = isoxml_from_path(into / "TASKDATA")
    ours = json.loads(user.get(f"/v1/recommendations/{ids['sheet_field']}?units=si")[0])["settings"]
    told = values(read)
    holds(told["0038"] == 51 and told["018C"] == 2235, f"2 in, 5 mph: {told}")
    holds(abs(told["01AA"] - ours["down_force"]["per_row"]["value"]) <= 1, f"down force: {told}")
    for code, figure in [("000B", 7.907), ("0038", 51.0), ("018C", 2235.0)]:
        entry = DDEntity.from_bytes(bytes.fromhex(code))
        near(told[code] * entry.bit_resolution, figure, entry.name, 1e-9)

    third = task_data(user, path + asked + "&version=v3", "three")
    read, _ = isoxml_from_path(third / "TASKDATA")
    holds(values(read) == told, "version 3 says the same")
    holds(not (third / "TASKDATA/LINKLIST.XML").exists(), "version 3 has no links")
    whole = task_data(user, f"/v1/growers/{ids['grower']}/task-data", "grower")
    text_of_all = (whole / "TASKDATA/TASKDATA.XML").read_bytes()
    holds(validated(text_of_all) == ([], True, []), f"the grower's file: {validated(text_of_all)}")
    root = lxml.etree.fromstring(text_of_all)
    names = sorted(it.get("C") for it in root.iter("PFD"))
    holds(len(names) == len(set(names)) == 3 and all(len(it) <= 32 for it in names), f"{names}")
    holds(len(list(root.iter("TSK"))) == 3, "a task for each sheet")
    holds(sum(len(list(it.iter("PLN"))) for it in root.iter("PFD")) == 3, "three pieces of land")
    older = task_data(user, f"/v1/growers/{ids['grower']}/task-data?version=v3", "grower-three")
    root = lxml.etree.parse(str(older / "TASKDATA/TASKDATA.XML")).getroot()
    holds(all(len(list(it.iter("PLN"))) <= 1 for it in root.iter("PFD")), "version 3 has one polygon a field")
    reader = pathlib.Path(os.environ["EXCHANGE_NODE"]) / "read_tasks.mjs"
    reader.write_text((HERE / "read_tasks.mjs").read_text(encoding="utf-8"), encoding="utf-8")
    files = [str(it.with_suffix(".zip")) for it in (FOLDER / "rate", into, third, whole, older)]
    found = json.loads(subprocess.run(["node", str(reader), *files], check=True, capture_output=True, text=True).stdout)
    for file, said in zip(files, found):
        holds(said["warnings"] == [], f"{file}: {said['warnings']}")
    holds(found[1]["tasks"][0] == {code: value for code, value in told.items()}, f"npm reads {found[1]['tasks'][0]}")
    holds(found[2]["tasks"][0] == told, "npm reads version 3")
    for said in found[3:]:
        shapes = {it["name"]: it["geometry"] for it in said["fields"]}
        drawn = {name: shapely.geometry.shape(it) for name, it in shapes.items() if it}
        holds(len(shapes) == 3 and len(drawn) == 2, "a field without a boundary")
        area = abs(ELLIPSOID.geometry_area_perimeter(shapely.geometry.polygon.orient(drawn["North 40"].geoms[0]))[0])
        near(area, 159_875.4, "G1 as npm reads it", 1e-5)
    return text


def rejects_task_data(text):
    """What is rejected by the schema, and what by our own rules."""
    of_shape = {
        "a DDI of one digit": ('A="000B"', 'A="B"'),
        "a rate with decimals": ('B="7907"', 'B="7.907"'),
        "a value beyond 32 bits": ('B="7907"', 'B="2147483648"'),
        "a field without an area": ('D="159875"', ""),
        "an id that is only a number": ('A="CTR1"', 'A="1"'),
        "a name of 33 characters": ('B="Home farm"', f'B="{"x" * 33}"'),
        "a farm that is not there": ('F="FRM1"', 'F="FRM9"'),
        "ten decimals": ('D="-93.600000000"', 'D="-93.6000000001"'),
        "an area with decimals": ('D="159875"', 'D="159875.5"'),
        "an unknown attribute": ('B="Home farm"', 'B="Home farm" Z="1"'),
    }
    plain = text.decode()
    for what, (old, new) in of_shape.items():
        holds(old in plain, f"{what}: {old} is there")
        holds(by_schema(plain.replace(old, new, 1).encode()) != [], f"{what} is rejected")
    of_rules = {
        "version 3 in the loosened schema": ('VersionMajor="4"', 'VersionMajor="3"'),
        "a zone that is not there": ('H="1"', 'H="7"'),
        "a rate without a product": ('<PDV A="000B" B="7907" C="PDT1"/>', '<PDV A="000B" B="7907"/>'),
        "an area of another field": ('D="159875"', 'D="40"'),
        "a corner that moved": ('C="42.003597000"', 'C="41.9"'),
    }
    for what, (old, new) in of_rules.items():
        holds(old in plain, f"{what}: {old} is there")
        holds(own_rules(plain.replace(old, new, 1).encode()) != [], f"{what} is seen")
    return len(of_shape) + len(of_rules)


def wound(feature):
    """Whether outer rings run against the clock and holes with it, and positions are longitude first."""
    geometry = feature["geometry"]
    pieces = geometry["coordinates"] if geometry["type"] == "MultiPolygon" else [geometry["coordinates"]]
    for piece in pieces:
        for place, ring in enumerate(piece):
            area, _ = ELLIPSOID.polygon_area_perimeter(*zip(*[it[:2] for it in ring]))
            # The library counts against the clock as positive.
            if (area > 0) != (place == 0) or ring[0] != ring[-1]:
                return False
    return shapely.geometry.shape(geometry).is_valid


def geojson(user, ids):
    raw, headers = user.get(f"/v1/fields/{ids['field']}/geojson")
    holds(headers["Content-Type"] == "application/geo+json", "GeoJSON")
    feature = json.loads(raw)
    area = ELLIPSOID.geometry_area_perimeter(shapely.geometry.shape(feature["geometry"]))[0]
    near(area, 159_875.4, "G1 of GeoJSON", 1e-6)
    holds(feature["properties"]["external_ids"] == [{"system": "records", "their_id": "F-1042"}], "external ids")
    _, again = user.call("GET", f"/v1/fields/{ids['field']}/geojson", headers={"If-None-Match": headers["ETag"]})
    holds(again["ETag"] == headers["ETag"] and again["Content-Length"] in (None, "0"), "304 for who has it")
    whole = json.loads(user.get(f"/v1/field-features?grower_id={ids['grower']}")[0])
    holds(whole["type"] == "FeatureCollection" and len(whole["features"]) == 3, "all fields of the grower")
    drawn = [it for it in whole["features"] if it["geometry"]]
    holds(len(drawn) == 2 and all(wound(it) for it in drawn), "rings are wound as RFC 7946 asks")
    back = copy.deepcopy(drawn[0])
    rings = back["geometry"]["coordinates"]
    (rings if back["geometry"]["type"] == "Polygon" else rings[0])[0].reverse()
    holds(not wound(back), "a ring wound the other way is seen")


def package(user, ids):
    raw, _ = user.get(f"/v1/recommendations/{ids['sheet_field']}/data-package")
    into = FOLDER / "package"
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        archive.extractall(into)
    read = Package(str(into / "datapackage.json"))
    result = read.validate()
    holds(result.valid, f"the package: {result.flatten(['name', 'type', 'rowNumber', 'fieldName', 'note'])[:5]}")
    rows = {it.name: it.read_rows() for it in read.resources}
    holds([str(it["sheet_id"]) for it in rows["sheets"]] == [ids["sheet_field"]], "one sheet")
    holds([str(it["dig_id"]) for it in rows["digs"]] == [ids["dig"]], "its dig")
    holds([str(it["planting_id"]) for it in rows["plantings"]] == [ids["planting"]], "its planting")
    near(rows["sheets"][0]["seeds_m2"], 7.907, "seeds", 1e-3)
    holds(len(rows["fields"]) == 3 and len(rows["growers"]) == 1, "the fields of the grower")
    digs = into / "digs.csv"
    digs.write_bytes(digs.read_bytes().replace(ids["sheet_field"][:8].encode(), b"00000000", 1))
    holds(not Package(str(into / "datapackage.json")).validate().valid, "a broken reference is seen")


def demo():
    """The demo's season, whole: streamed, with thousands of references."""
    said = pathlib.Path(os.environ["DIBBLE_SAID"]).read_text(encoding="utf-8")
    base = os.environ["DIBBLE_DEMO_URL"]
    sizes = {}
    for kind in ("advisor", "grower"):
        email, password = re.search(rf"^  {kind}\s.*?(\S+@\S+)\s+(\S+)$", said, re.MULTILINE).groups()
        user = season.Caller(base, email, password)
        seasons = json.loads(user.get("/v1/seasons")[0])["items"]
        number = max(seasons, key=lambda it: it["fields"])["season"]
        data = adapt(user, f"/v1/seasons/{number}/adapt", f"demo-{kind}")
        documents = data["documents"]
        report = json.loads(user.get(f"/v1/seasons/{number}/report")[0])
        digs = [it for it in documents["workRecords"] if it["name"].startswith("Dig check")]
        holds(len(digs) >= report["about"]["digs"] > 0, f"{len(digs)} digs of {report['about']['digs']}")
        sizes[kind] = (len(documents["recommendations"]), len(documents["workRecords"]))
        features = json.loads(user.get("/v1/field-features")[0])["features"]
        holds(all(it["geometry"] is None or wound(it) for it in features), "rings of the demo")
    return sizes


advisor = season.Caller(os.environ["DIBBLE_URL"], "advisor@example.org", os.environ["DIBBLE_PASSWORD"])
records = season.Caller(os.environ["DIBBLE_URL"], "records_system@example.org", os.environ["DIBBLE_PASSWORD"])
ids = season.make(advisor, records)
data = one_sheet(advisor, ids)
for key in ("pieces", "bare"):
    adapt(advisor, f"/v1/recommendations/{ids[f'sheet_{key}']}/adapt", key)
whole = adapt(advisor, f"/v1/seasons/{ids['season']}/adapt", "season")
holds(len(whole["documents"]["recommendations"]) == 3, "three sheets of the season")
print(f"jsonschema: sheets and a season; {rejects_adapt(data)} defects seen")
text = of_task_data(advisor, ids)
print(f"xmlschema, libxml2, isoxml (PyPI, npm): five task files; {rejects_task_data(text)} defects seen")
geojson(advisor, ids)
package(advisor, ids)
print(f"pyproj, frictionless: fields and a package; the demo: {demo()}")
print(f"{checks} checks held")
