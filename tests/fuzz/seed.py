"""Something to ask for: a grower with all that hangs on it, made as an advisor over HTTP."""

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
        "calendar-feeds": feed,
        "key": f"dig_failed.{sheet['id']}",
    }
