"""What the JSON Schema of the ADAPT Standard does not see: references, codes, units, values, extra members."""
import collections
import json
import pathlib
import re

import shapely

HERE = pathlib.Path(__file__).parent / "adapt"
SCHEMA = json.loads((HERE / "adapt-root-schema.json").read_text(encoding="utf-8"))
LISTED = json.loads((HERE / "definitions.json").read_text(encoding="utf-8"))["dataTypeDefinitions"]
DEFINITIONS = {it["definitionCode"]: it for it in LISTED}
UNITS = set(json.loads((HERE / "units.json").read_text(encoding="utf-8")))

# Which enumeration a member takes its code from.
ENUMERATIONS = {
    "operationTypeCode": "OperationType",
    "roleCode": "Role",
    "partyTypeCode": "PartyType",
    "dateContextCode": "DateContext",
    "idTypeCode": "IdType",
    "idSourceTypeCode": "IdSourceType",
    "productTypeCode": "ProductType",
    "productFormCode": "ProductForm",
    "documentRelationshipTypeCode": "DocumentRelationshipType",
    "dataDefinitionBaseTypeCode": "DataDefinitionBaseType",
    "dataDefinitionStatusCode": "DataDefinitionStatus",
    "numericDataTypeCode": "NumericDataType",
    "boundaryCreationMethodCode": "BoundaryCreationMethod",
}
# Members whose context items a definition may be scoped to.
SCOPES = {"workRecords": "WORK_RECORD", "operations": "OPERATION", "fields": "FIELD"}


def objects(value, way=()):
    """Every object in it, with the members and places that lead there."""
    if isinstance(value, dict):
        yield way, value
        for name, member in value.items():
            yield from objects(member, (*way, name))
    elif isinstance(value, list):
        for place, member in enumerate(value):
            yield from objects(member, (*way, place))


def unit(code):
    """Whether a unit is a key, or keys with exponents."""
    if code in UNITS:
        return True
    parts = re.findall(r"([A-Za-z]+)(-?\d+)", code)
    return bool(parts) and "".join(a + b for a, b in parts) == code and all(a in UNITS for a, _ in parts)


def extra(schema, value, way):
    """Members that the schema does not have."""
    while "$ref" in schema:
        schema = SCHEMA["$defs"][schema["$ref"].rsplit("/", 1)[1]]
    if isinstance(value, list):
        for place, member in enumerate(value):
            yield from extra(schema.get("items", {}), member, (*way, place))
    elif isinstance(value, dict):
        for name, member in value.items():
            if name not in schema.get("properties", {}):
                yield f"{(*way, name)}: no such member"
            else:
                yield from extra(schema["properties"][name], member, (*way, name))


def known(data):
    """The standard's definitions and those of the catalog; and what is wrong with the latter."""
    own, wrong = {}, []
    for definition in data["catalog"].get("customDataTypeDefinitions", []):
        code = definition["definitionCode"]
        if code in DEFINITIONS or code in own or not code.startswith("DIBBLE_"):
            wrong.append(f"{code}: no code of our own")
        own[code] = definition
    return {**DEFINITIONS, **own}, wrong


def of_codes(way, it, definitions):
    """Codes of an object that are in no list, or may not be used."""
    for name, value in it.items():
        if name in ENUMERATIONS:
            items = DEFINITIONS[ENUMERATIONS[name]]["enumeratedDataTypeDefinitionAttributes"]["items"]
            status = {item["code"]: item["enumerationItemStatusCode"] for item in items}
            if status.get(value) != "VALID":
                yield f"{way}.{name}: {value} is {status.get(value, 'not in the list')}"
        elif name == "unitOfMeasureCode" and not unit(value):
            yield f"{way}: the unit {value}"
        elif name == "definitionCode" and "customDataTypeDefinitions" not in way:
            if value not in definitions:
                yield f"{way}: the definition {value}"
            else:
                wanted = "VARIABLE" if way[-2] == "variables" else SCOPES.get(way[-4] if len(way) > 3 else "")
                scopes = definitions[value].get("scopes")
                if scopes and wanted not in scopes:
                    yield f"{way}: {value} is for {scopes}, not for {wanted}"
        elif name.endswith("Code") and name not in ENUMERATIONS and name not in ("definitionCode", "unitOfMeasureCode"):
            yield f"{way}.{name}: no list for it"


def of_geometry(way, text):
    """What is wrong with a geometry."""
    try:
        shape = shapely.from_wkt(text)
    except shapely.errors.GEOSException as error:
        yield f"{way}: {error}"
        return
    if not shape.is_valid or shape.is_empty:
        yield f"{way}: {shapely.is_valid_reason(shape)}"
    west, south, east, north = shape.bounds
    if not (-180 <= west <= east <= 180 and -90 <= south <= north <= 90):
        yield f"{way}: no longitude and latitude"
    if not all(re.fullmatch(r"-?\d+\.\d{7}", number) for number in re.findall(r"-?[\d.]+", text)):
        yield f"{way}: not seven decimals"


def problems(data):
    """All that is wrong."""
    definitions, found = known(data)
    if data["rootSchemaVersion"] != SCHEMA["$id"].rsplit("/", 1)[1]:
        found.append(f"rootSchemaVersion {data['rootSchemaVersion']}")
    found += extra(SCHEMA, data, ())
    everything = list(objects(data))
    named = [it["id"]["referenceId"] for _, it in everything if isinstance(it.get("id"), dict)]
    found += [f"{name} stands twice" for name, times in collections.Counter(named).items() if times > 1]
    there = set(named)
    variables = {it["id"]["referenceId"]: it["definitionCode"] for way, it in everything if "variables" in way[-2:]}
    for way, it in everything:
        for name, value in it.items():
            refers = [value] if name.endswith("Id") and isinstance(value, str) else (
                value if name.endswith("Ids") and name != "uniqueIds" else [])
            if name == "referenceId":
                continue
            found += [f"{way}.{name}: {id_} is not there" for id_ in refers if id_ not in there]
            if name in ("start", "end") and not (isinstance(value, str) and value.endswith("Z")):
                found.append(f"{way}.{name}: {value} is not UTC")
            if name == "geometry":
                found += of_geometry(way, value)
        found += of_codes(way, it, definitions)
        if "variableId" in it:
            code = variables.get(it["variableId"])
            kind = definitions.get(code, {}).get("numericDataTypeDefinitionAttributes", {}).get("numericDataTypeCode")
            shape = r"-?\d+" if kind == "INTEGER" else r"-?\d+(\.\d+)?"
            if kind is None or not re.fullmatch(shape, it["valueText"]):
                found.append(f"{way}: {it['valueText']} is no {kind} of {code}")
    return found
