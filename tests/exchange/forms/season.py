"""A grower with fields of every shape, a sheet, and what came of it, made over HTTP."""
import datetime
import json
import urllib.error
import urllib.request


class Caller:
    """Someone who is signed in."""

    def __init__(self, base, email, password):
        self.base, self.token = base, None
        session = self.post("/v1/sessions", {"email": email, "password": password})
        self.token = session["access_token"]

    def call(self, method, path, body=None, headers=None):
        data = json.dumps(body).encode() if body is not None else None
        request = urllib.request.Request(self.base + path, data=data, method=method, headers=headers or {})
        if self.token:
            request.add_header("Authorization", f"Bearer {self.token}")
        if body is not None:
            request.add_header("Content-Type", "application/json")
        try:
            with urllib.request.urlopen(request) as answer:
                return answer.read(), answer.headers
        except urllib.error.HTTPError as error:
            if error.code == 304:
                return b"", error.headers
            raise SystemExit(f"{method} {path}: {error.code} {error.read().decode()}") from error

    def get(self, path):
        return self.call("GET", path)

    def post(self, path, body, headers=None):
        return json.loads(self.call("POST", path, body, headers)[0])

    def made(self, path, body):
        return self.post(path, body)["id"]


def quantity(value, unit):
    return {"value": value, "unit": unit}


# Check value G1: 159,875.4 m2 on the ellipsoid.
G1 = [[-93.6, 42.0], [-93.595_17, 42.0], [-93.595_17, 42.003_597], [-93.6, 42.003_597], [-93.6, 42.0]]
# A rectangle with a hole, both wound the wrong way round, and a second piece beside it.
OUTER = [[-93.62, 42.03], [-93.62, 42.04], [-93.61, 42.04], [-93.61, 42.03], [-93.62, 42.03]]
HOLE = [[-93.618, 42.032], [-93.614, 42.032], [-93.614, 42.036], [-93.618, 42.036], [-93.618, 42.032]]
EAST = [[-93.6, 42.03], [-93.59, 42.03], [-93.59, 42.04], [-93.6, 42.04], [-93.6, 42.03]]
ODD = 'The "long" field <behind> the old school & creek 🌽'


def make(user, records):
    """Makes it, the first field as a records system sends it; gives ids."""
    now = datetime.datetime.now(datetime.timezone.utc)
    today = now.date()
    ids = {"season": today.year}
    ids["grower"] = user.made("/v1/growers", {"name": "Miller & Söhne <Brothers>"})
    ids["farm"] = user.made("/v1/farms", {"grower_id": ids["grower"], "name": "Home farm"})
    field = lambda name, boundary: user.made("/v1/fields", {"farm_id": ids["farm"], "name": name, **boundary})
    feature = {"type": "Feature", "geometry": {"type": "Polygon", "coordinates": [G1]},
               "properties": {"farm_id": ids["farm"], "name": "North 40"}}
    records.call("PUT", "/v1/external/records/fields/F-1042", feature)
    sent = json.loads(user.get(f"/v1/field-features?farm_id={ids['farm']}")[0])
    ids["field"] = sent["features"][0]["id"]
    pieces = {"type": "MultiPolygon", "coordinates": [[OUTER, HOLE], [EAST]]}
    ids["pieces"] = field(ODD + ", north", {"boundary": pieces})
    ids["bare"] = field(ODD + ", south", {"entered_area": quantity(40, "[acr_us]")})
    planter = {"grower_id": ids["grower"], "name": "The eight-row", "makeup": {
        "rows": 8, "row_width": quantity(30, "[in_i]"),
        "unit": {
            "weight": quantity(175, "[lbf_av]"),
            "hopper": {"kind": "per_row", "volume": quantity(1.6, "[bu_us]")},
            "opener": {"new_diameter": quantity(15.0, "[in_i]")},
            "coulter": {"mount": "unit", "above_opener": quantity(8, "mm")},
            "cleaner": "floating", "closing": "spiked_and_rubber", "arms": {"angle": quantity(0, "deg")},
        },
        "down_force": {"kind": "air_bag"},
    }}
    ids["planter"] = user.made("/v1/planters", planter)
    user.post(f"/v1/planters/{ids['planter']}/calibrations", {"calibrated_on": str(today), "points": [
        {"pressure": quantity(15, "[psi]"), "force": quantity(120, "[lbf_av]")},
        {"pressure": quantity(60, "[psi]"), "force": quantity(420, "[lbf_av]")},
    ]})
    seen = {
        "observed_at": now.strftime("%Y-%m-%dT%H:%M:%SZ"), "crop": "corn", "planting_date": str(today),
        "texture": "silt_loam", "moisture": "moist", "ball": "crumbles", "ribbon": quantity(0.5, "[in_i]"),
        "soil_temperature": quantity(54, "[degF]"), "soil_low": quantity(51, "[degF]"),
        "previous_crop": "soybean",
    }
    goals = {
        "depth": quantity(2, "[in_i]"), "speed": quantity(5, "[mi_i]/h"),
        "seeding": {"kind": "rate", "seeds": quantity(32_000, "1/[acr_us]")},
        "in_furrow": {"rate": quantity(5, "[gal_us]/[acr_us]"), "contains": [], "product": {
            "kind": "starter", "nitrogen": quantity(10, "%"), "phosphate": quantity(34, "%"),
            "potash": quantity(0, "%"), "density": quantity(11.65, "[lb_av]/[gal_us]"),
        }},
    }
    for key in ("field", "pieces", "bare"):
        seen_id = user.made(f"/v1/fields/{ids[key]}/conditions", seen)
        wanted = {"field_id": ids[key], "planter_id": ids["planter"], "conditions_id": seen_id, "goals": goals}
        ids[f"sheet_{key}"] = user.made("/v1/recommendations", wanted)
        user.post(f"/v1/recommendations/{ids[f'sheet_{key}']}/issue", {}, {"If-Match": "*"})
    planted = today - datetime.timedelta(days=20)
    ids["planting"] = user.made(f"/v1/fields/{ids['field']}/plantings", {
        "planter_id": ids["planter"], "planted_on": str(planted), "crop": "corn",
        "recommendation_id": ids["sheet_field"], "seeds": quantity(34_000, "1/[acr_us]"),
        "depth": quantity(2, "[in_i]"), "hours": 3.5,
    })
    ids["stand"] = user.made(f"/v1/fields/{ids['field']}/stand-counts", {
        "planting_id": ids["planting"], "counted_on": str(today), "count": {
            "kind": "hoop", "diameter": quantity(30, "[in_i]"),
            "counts": [{"place": place, "plants": plants} for place, plants in [(1, 34), (2, 32), (3, 35)]],
        },
    })
    row = lambda number, depths: {
        "row": number, "seed_depths": {"unit": "[in_i]", "values": depths},
        "spacings": {"unit": "[in_i]", "values": [6.5, 6.4, 6.8, 2.9, 10.2, 6.6, 6.3, 13.1, 6.5, 6.7]},
        "gauge_wheels": "spin_free", "wall": "crumbly", "bottom": "v", "seed_on_bottom": True,
    }
    ids["dig"] = user.made(f"/v1/recommendations/{ids['sheet_field']}/dig-checks", {
        "dug_at": now.strftime("%Y-%m-%dT%H:%M:%SZ"),
        "settings": {"pressure": quantity(30, "[psi]"), "speed": quantity(5, "[mi_i]/h")},
        "rows": [row(2, [1.5, 1.625, 1.5, 1.625, 1.5]), row(3, [1.5, 1.5, 1.625, 1.5, 1.625]),
                 row(6, [1.625, 1.5, 1.5, 1.625, 1.5])],
    })
    return ids
