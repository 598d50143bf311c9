"""Something to ask for, made over HTTP: a grower with all that hangs on it, and what a records system brings."""

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import httpx

JOB = json.loads(Path("tests/clients/job.json").read_text())


def token(url: str, role: str, password: str) -> str:
    who = {"email": f"{role}@example.org", "password": password}
    answer = httpx.post(f"{url}/v1/sessions", json=who).raise_for_status()
    return str(answer.json()["access_token"])


def sign_in(url: str, role: str, password: str) -> httpx.Client:
    authorization = f"Bearer {token(url, role, password)}"
    return httpx.Client(base_url=url, headers={"Authorization": authorization}, timeout=30)


def make(client: httpx.Client, path: str, body: Any, **headers: str) -> dict[str, Any]:
    answer = client.post(path, json=body, headers=headers)
    if not answer.is_success:
        raise SystemExit(f"POST {path}: {answer.status_code} {answer.text}")
    return dict(answer.json())


def farmstead(client: httpx.Client) -> dict[str, str]:
    """The ids of what was made, by the name of the collection."""
    now = datetime.now(UTC).isoformat()
    grower = make(client, "/v1/growers", {"name": "Hill Farm Partners"})["id"]
    farm = make(client, "/v1/farms", {"grower_id": grower, "name": "Home farm"})["id"]
    field = make(client, "/v1/fields", {"farm_id": farm, "name": "North forty"})["id"]
    planter = {"grower_id": grower, "name": "The eight-row", "makeup": JOB["makeup"]}
    planter = make(client, "/v1/planters", planter)["id"]
    bags = {"calibrated_on": now[:10], "points": JOB["points"]}
    make(client, f"/v1/planters/{planter}/calibrations", bags)
    disc = {"item": "opener_diameter", "measured": {"value": 14.9, "unit": "[in_i]"}}
    looked = {"inspected_on": now[:10], "findings": [disc]}
    inspection = make(client, f"/v1/planters/{planter}/inspections", looked)["id"]
    seen = {**JOB["conditions"], "observed_at": now}
    report = make(client, f"/v1/fields/{field}/conditions", seen)["id"]
    wanted = {"field_id": field, "planter_id": planter, "goals": JOB["goals"]}
    sheet = make(client, "/v1/recommendations", wanted)
    path = f"/v1/recommendations/{sheet['id']}"
    make(client, f"{path}/issue", {}, **{"If-Match": "*"})
    dug_at = datetime.now(UTC).isoformat()
    dig = make(client, f"{path}/dig-checks", {**JOB["dig"], "dug_at": dug_at})
    wheels = {
        "crop": "corn",
        "trying": "closing_wheel",
        "treatments": [{"name": "smooth"}, {"name": "spiked"}],
        "way": {"kind": "planter_rows", "rows_each": 2},
        "blocks": 4,
        "responses": [{"kind": "emergence"}],
    }
    trial = {"field_id": field, "planter_id": planter, "name": "Spiked wheels", "design": wheels}
    trial = make(client, "/v1/trials", trial)["id"]
    make(client, f"/v1/trials/{trial}/start", {}, **{"If-Match": "*"})
    spring = datetime.now(UTC).date().replace(month=5, day=2)
    spring = spring if spring < datetime.now(UTC).date() else spring.replace(year=spring.year - 1)
    planted = {"planter_id": planter, "planted_on": spring.isoformat(), "crop": "corn"}
    planting = make(client, f"/v1/fields/{field}/plantings", planted)["id"]
    throws = {
        "planting_id": planting,
        "counted_on": spring.replace(day=30).isoformat(),
        "count": {
            "kind": "hoop",
            "diameter": {"value": 30, "unit": "[in_i]"},
            "counts": [{"place": 1, "plants": 4}, {"place": 2, "plants": 3}],
        },
    }
    stand = make(client, f"/v1/fields/{field}/stand-counts", throws)["id"]
    grain = {"harvested_on": f"{spring.year - 1}-10-12", "crop": "corn", "basis": "dry"}
    grain["grain"] = {"value": 8, "unit": "t/har"}
    harvest = make(client, f"/v1/fields/{field}/yields", grain)["id"]
    feed = make(client, "/v1/calendar-feeds", {})["feed"]["id"]
    return {
        "growers": grower,
        "farms": farm,
        "fields": field,
        "planters": planter,
        "conditions": report,
        "recommendations": sheet["id"],
        "coefficient-sets": sheet["coefficient_set_id"],
        "dig-checks": dig["id"],
        "adjustments": dig["adjustment_id"],
        "trials": trial,
        "inspections": inspection,
        "plantings": planting,
        "stand-counts": stand,
        "yields": harvest,
        "calendar-feeds": feed,
        "entry": f"dig_failed.{sheet['id']}",
    }


# What a records system calls itself, and every kind of record that it has: ids of theirs are of a kind.
SYSTEM, THEIRS = "records", "7"


def put(client: httpx.Client, path: str, body: Any, *statuses: int) -> dict[str, Any]:
    answer = client.put(f"/v1/external/{SYSTEM}/{path}", json=body)
    if answer.status_code not in statuses:
        raise SystemExit(f"PUT {path}: {answer.status_code} {answer.text}")
    return dict(answer.json())


def square(west: float) -> dict[str, Any]:
    east, south, north = west + 0.005, 42.0, 42.004
    return {
        "type": "Polygon",
        "coordinates": [[[west, south], [east, south], [east, north], [west, north], [west, south]]],
    }


def field(name: str, west: float) -> dict[str, Any]:
    return {"type": "Feature", "geometry": square(west), "properties": {"farm": THEIRS, "name": name}}


def only(client: httpx.Client, path: str) -> str:
    items = client.get(path).raise_for_status().json()["items"]
    if len(items) != 1:
        raise SystemExit(f"GET {path}: {len(items)} where one was made")
    return str(items[0]["id"])


def connected(records: httpx.Client, advisor: httpx.Client) -> dict[str, str]:
    """What a records system brings: ids, a record that waits, a conflict, a link and its run, a webhook and its notice."""
    put(records, f"growers/{THEIRS}", {"name": "Valley Partners"}, 201)
    put(records, f"farms/{THEIRS}", {"grower": THEIRS, "name": "Valley farm"}, 201)
    ours = put(records, f"fields/{THEIRS}", field("River bend", -94.0), 201)["field"]["id"]
    width = {"value": 30, "unit": "[in_i]"}
    planter = {"grower": THEIRS, "name": "The six-row", "rows": 6, "row_spacing": width}
    planter["makeup"] = {**JOB["makeup"], "rows": 6}
    put(records, f"planters/{THEIRS}", planter, 201)
    grain = {"value": 8, "unit": "t/har"}
    day = f"{datetime.now(UTC).year - 1}-10-12"
    harvest = {"field": THEIRS, "harvested_on": day, "crop": "corn", "basis": "dry", "grain": grain}
    put(records, f"yields/{THEIRS}", harvest, 201)
    # Both sides give it another name.
    answer = advisor.patch(f"/v1/fields/{ours}", json={"name": "Oxbow"}, headers={"If-Match": "*"})
    answer.raise_for_status()
    put(records, f"fields/{THEIRS}", field("Meander", -94.0), 409)
    # Somebody who may be the advisor's grower.
    put(records, "growers/8", {"name": "hill farm partners"}, 409)
    link = {
        "name": "Records of the county",
        "system": SYSTEM,
        "base_url": "https://records.example.org/api",
        "auth": {"kind": "header", "name": "X-Key", "secret": "made up for these requests"},
        "resources": {"growers": {"path": "/growers", "items": "$.data[*]", "id": "/id", "name": "/name"}},
    }
    link = make(records, "/v1/records-links", link)["id"]
    run = make(records, f"/v1/records-links/{link}/runs", {"mode": "preview"})["id"]
    hook = {"name": "The county", "url": "https://records.example.org/notices"}
    hook = make(records, "/v1/webhooks", hook)["webhook"]["id"]
    delivery = make(records, f"/v1/webhooks/{hook}/test", None)["id"]
    return {
        "system": SYSTEM,
        "their_id": THEIRS,
        "record-matches": only(records, "/v1/record-matches"),
        "record-conflicts": only(records, "/v1/record-conflicts"),
        "records-links": link,
        "runs": run,
        "webhooks": hook,
        "deliveries": delivery,
    }
