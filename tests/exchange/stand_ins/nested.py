"""A records system whose records hold other records, and whose pages say the address of the next.

    GET /api/farms, /api/fields, /api/equipment     with the header X-Key: invented-key-1
"""

import farmland
from records import StandIn, left, name_of, serve, spoiled

KEY = "invented-key-1"


class Nested(StandIn):
    def lets_in(self):
        return self.headers.get("X-Key") == KEY

    def is_fields(self, path):
        return path == "/api/fields"

    def page(self, path, query):
        rows = {"/api/farms": self.farms, "/api/fields": self.fields, "/api/equipment": self.equipment}.get(path)
        if rows is None:
            return self.say(404, {"error": "nothing here"})
        rows, after = self.cut(self.kept(path, rows), query)
        limit = query.get("limit", str(self.page_size))
        following = f"{path}?limit={limit}&page={after}" if after else None
        if self.told["what"] == "repeats" and after:
            following = self.path
        if self.told["what"] == "elsewhere" and after:
            following = f"http://localhost:1{path}?page={after}"
        return self.say(200, {"data": rows, "links": {"next": following}})

    def owner(self, number):
        return {"id": f"own-{number}", "name": farmland.GROWERS[number]}

    def farms(self):
        return [
            {"uid": f"farm-{number}", "label": name, "owner": self.owner(owner)}
            for number, (name, owner) in enumerate(farmland.FARMS)
        ]

    def fields(self):
        what = self.told["what"]
        rows = []
        for number, name, farm, ring, acres in farmland.fields(self.told["fields"]):
            row = {
                "uid": f"field-{number}",
                "label": name_of(what, number, name),
                "home": {"uid": f"farm-{farm}", "label": farmland.FARMS[farm][0]},
                "size": acres if what != "wrong_unit" else round(acres * 0.40468564, 3),
                "shape": {"type": "Polygon", "coordinates": [spoiled(what, number, ring)]},
            }
            if what == "no_id" and number == 1:
                del row["uid"]
            rows.append(row)
        return left(what, rows)

    def equipment(self):
        rows = [{"uid": "unit-9", "kind": "tractor", "label": "The red one", "owner": self.owner(0)}]
        for number, (name, owner, bar, spacing) in enumerate(farmland.PLANTERS):
            unit = {"uid": f"unit-{number}", "kind": "planter", "label": name, "rows": bar, "spacing": spacing}
            rows.append({**unit, "owner": self.owner(owner)})
        return rows


serve(Nested)
