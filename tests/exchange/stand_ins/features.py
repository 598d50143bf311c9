"""A records system that gives GeoJSON features, in pages that say the next one in the header Link and in `links`.

    GET /collections/{growers,farms,fields}/items?limit=5       for everybody
"""

import farmland
from records import StandIn, left, name_of, serve, spoiled


class Features(StandIn):
    def is_fields(self, path):
        return path == "/collections/fields/items"

    def page(self, path, query):
        kind = path.removeprefix("/collections/").removesuffix("/items")
        rows = {"growers": self.growers, "farms": self.farms, "fields": self.fields}.get(kind)
        if rows is None:
            return self.say(404, {"code": "NotFound"})
        rows, after = self.cut(self.kept(path, rows), query)
        body = {"type": "FeatureCollection", "features": rows, "numberReturned": len(rows)}
        body["links"] = [{"rel": "self", "href": self.path}]
        headers = {}
        if after:
            limit = query.get("limit", str(self.page_size))
            following = f"{path}?limit={limit}&page={after}"
            if self.told["what"] == "repeats":
                following = self.path
            if self.told["what"] == "elsewhere":
                following = f"http://localhost:1{path}"
            body["links"].append({"rel": "next", "href": following})
            headers["Link"] = f'<{self.path}>; rel="self", <{following}>; rel="next"; title="more, and more"'
        return self.say(200, body, headers)

    def feature(self, ident, properties, geometry=None):
        return {"type": "Feature", "id": ident, "geometry": geometry, "properties": properties}

    def growers(self):
        return [self.feature(f"g{number}", {"name": name}) for number, name in enumerate(farmland.GROWERS)]

    def farms(self):
        return [
            self.feature(f"a{number}", {"name": name, "grower": f"g{owner}"})
            for number, (name, owner) in enumerate(farmland.FARMS)
        ]

    def fields(self):
        what = self.told["what"]
        rows = []
        for number, name, farm, ring, acres in farmland.fields(self.told["fields"]):
            area = acres if what == "wrong_unit" else round(acres * farmland.ACRE, 1)
            properties = {"name": name_of(what, number, name), "farm": f"a{farm}", "area_m2": area}
            geometry = {"type": "Polygon", "coordinates": [spoiled(what, number, ring)]}
            row = self.feature(f"f{number}", properties, geometry)
            if what == "no_id" and number == 1:
                del row["id"]
            rows.append(row)
        return left(what, rows)


serve(Features)
