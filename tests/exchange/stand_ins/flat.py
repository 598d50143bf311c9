"""A records system of flat records, with cursors, and tokens by OAuth 2.0 client credentials that expire.

    POST /oauth/token                               HTTP Basic with the client invented-client
    GET /v2/parties, /v2/sites, /v2/parcels, /v2/harvests   with the token; ?changed_after=TIME
"""

import base64
import secrets
import urllib.parse

import farmland
from records import StandIn, left, name_of, serve, spoiled

CLIENT = ("invented-client", "invented:secret &1")


class Flat(StandIn):
    tokens = set()

    def posted(self, path, body):
        if path != "/oauth/token":
            return self.say(404, {"error": "nothing here"})
        scheme, _, pair = self.headers.get("Authorization", "").partition(" ")
        try:
            client = base64.b64decode(pair).decode().split(":", 1)
        except ValueError:
            client = []
        given = tuple(urllib.parse.unquote_plus(part) for part in client)
        form = dict(urllib.parse.parse_qsl(body))
        if scheme != "Basic" or given != CLIENT:
            return self.say(401, {"error": "invalid_client"})
        if form.get("grant_type") != "client_credentials":
            return self.say(400, {"error": "unsupported_grant_type"})
        token = secrets.token_urlsafe(24)
        self.tokens.add(token)
        return self.say(200, {"access_token": token, "token_type": "Bearer", "expires_in": 600})

    def expire(self):
        self.tokens.clear()

    def lets_in(self):
        return self.headers.get("Authorization", "").removeprefix("Bearer ") in self.tokens

    def is_fields(self, path):
        return path == "/v2/parcels"

    def page(self, path, query):
        rows = {
            "/v2/parties": self.parties,
            "/v2/sites": self.sites,
            "/v2/parcels": self.parcels,
            "/v2/harvests": self.harvests,
        }.get(path)
        if rows is None:
            return self.say(404, {"error": "nothing here"})
        rows = [] if "changed_after" in query else self.kept(path, rows)
        place = query.get("after", "p1")
        rows, after = self.cut(rows, {**query, "page": place.removeprefix("p")})
        cursor = f"p{after}" if after else None
        if self.told["what"] == "repeats" and after:
            cursor = place
        return self.say(200, {"records": rows, "cursor": cursor})

    def parties(self):
        return [
            {"party_no": 700 + number, "party_name": name, "phone": f"555 01{number:02}"}
            for number, name in enumerate(farmland.GROWERS)
        ]

    def sites(self):
        return [
            {"site_no": 800 + number, "site_name": name, "party_no": 700 + owner}
            for number, (name, owner) in enumerate(farmland.FARMS)
        ]

    def parcels(self):
        what = self.told["what"]
        rows = []
        for number, name, farm, ring, acres in farmland.fields(self.told["fields"]):
            points = ", ".join(f"{x} {y}" for x, y in spoiled(what, number, ring))
            hectares = acres if what == "wrong_unit" else round(acres * 0.40468564, 3)
            row = {
                "parcel_no": 9000 + number,
                "parcel_name": name_of(what, number, name),
                "site_no": 800 + farm,
                "hectares": str(hectares),
                "outline": f"POLYGON (({points}))",
            }
            if what == "no_id" and number == 1:
                row["parcel_no"] = None
            rows.append(row)
        return left(what, rows)

    def harvests(self):
        return [
            {
                "harvest_no": number,
                "parcel_no": 9000 + field,
                "day": day,
                "crop": crop,
                "dry_t_ha": dry,
                "moisture_pct": moisture,
            }
            for number, field, day, crop, dry, moisture in farmland.yields()
        ]


serve(Flat)
