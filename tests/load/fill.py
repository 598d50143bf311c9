"""Fills a practice with made-up seasons, in bulk, straight into an SQLite file.

    dibble account add --practice "Load" --email lead@load.example --role lead   (makes schema and lead)
    python3 fill.py load.sqlite --growers 2000 --fields 10 --digs 10

Rows agree with each other and with what the service keeps of digs (`season_digs`). What a report of a
season never reads is short: the JSON of sheets and digs is `{}`, so sheets and digs can be counted but not
opened. Seasons themselves are not written: the service counts them when it starts.
"""

import argparse
import datetime
import json
import random
import sqlite3
import time

SOILS = ["coarse", "medium", "medium", "fine", "unknown"]
COVERS = ["no_cover", "living", "dead"]
CAUSES = ["too_little_force", "too_much_force", "hairpin", "worn_or_misread", "bar_too_high", None]
IRON = ["hairpin", "worn_or_misread", "bar_too_high"]
SPRING = datetime.datetime(2026, 4, 5, 12, tzinfo=datetime.UTC)
# A quarter inch, in µm.
TOLERANCE = 6350
# An eighth of an inch, in µm: a bin of depth.
BIN = 3175


class Ids:
    """Ids that rise, with the version and variant bits of a UUID of version 7."""

    def __init__(self):
        self.next = 0

    def __call__(self):
        self.next += 1
        milliseconds = int(SPRING.timestamp() * 1000) + self.next // 1000
        number = milliseconds << 80 | 7 << 76 | 2 << 62 | self.next
        return number.to_bytes(16, "big")


def text(moment):
    return moment.isoformat()


class Writer:
    """Collects rows by table and writes them in bulk."""

    def __init__(self, db):
        self.db = db
        self.rows = {}

    def add(self, table, **columns):
        names, rows = self.rows.setdefault(table, (tuple(columns), []))
        assert names == tuple(columns), table
        rows.append(tuple(columns.values()))

    def flush(self):
        for table, (names, rows) in self.rows.items():
            columns = ", ".join(f'"{name}"' for name in names)
            marks = ", ".join("?" * len(names))
            self.db.executemany(f"INSERT INTO {table} ({columns}) VALUES ({marks})", rows)
        self.rows = {}


class Practice:
    """A practice that is being filled."""

    def __init__(self, db, dice):
        self.db, self.dice, self.ids = db, dice, Ids()
        self.out = Writer(db)
        found = db.execute("SELECT practice_id, id FROM accounts WHERE role = 'lead' LIMIT 1").fetchone()
        if found is None:
            raise SystemExit("make a lead first: dibble account add")
        self.practice, self.lead = found
        self.now = text(SPRING)
        self.serial = 0

    def own(self, **more):
        return {"practice_id": self.practice, "id": self.ids(), **more}

    def dated(self):
        return {"version": 1, "created_at": self.now, "updated_at": self.now}

    def advisors(self, count):
        made = []
        for n in range(count):
            row = self.own(
                email=f"advisor{n}@load.example", display_name=f"Advisor {n}", role="advisor",
                grower_id=None, password_hash="none", units="us", created_at=self.now, version=1,
            )
            self.out.add("accounts", **row)
            made.append(row["id"])
        return made

    def grower(self, number, advisor, fields, digs):
        grower = self.own(name=f"Grower {number}", advisor_id=advisor, **self.dated())
        self.out.add("growers", **grower)
        farm = self.own(grower_id=grower["id"], name="Home farm", **self.dated())
        self.out.add("farms", **farm)
        planter = self.own(grower_id=grower["id"], name="Planter", makeup="{}", **self.dated())
        self.out.add("planters", **planter)
        for n in range(fields):
            self.field(farm["id"], planter["id"], n, digs)

    def field(self, farm, planter, number, digs):
        soil, cover = self.dice.choice(SOILS), self.dice.choice(COVERS)
        field = self.own(farm_id=farm, name=f"Field {number}", area_m2=self.dice.uniform(8e4, 6e5), **self.dated())
        self.out.add("fields", **field)
        begins = SPRING + datetime.timedelta(hours=self.dice.randrange(24 * 60))
        conditions = self.own(
            field_id=field["id"], observed_at=text(begins), observations="{}", created_at=text(begins),
            created_by=self.lead,
        )
        self.out.add("conditions_reports", **conditions)
        where = {"planter_id": planter, "field_id": field["id"]}
        sheet = self.sheet(where, conditions["id"], None, begins, digs > 1)
        at, off = begins, self.dice.gauss(-6000, 7000)
        for n in range(digs):
            at += datetime.timedelta(minutes=self.dice.randrange(20, 200))
            off *= 0.75
            self.dig(where, sheet, at, off, (soil, cover))

    def sheet(self, where, conditions, before, at, superseded):
        ident = self.ids()
        seen = self.dice.random() < 0.9
        series = before["series_id"] if before else ident
        row = {
            "practice_id": self.practice, "id": ident, **where, "conditions_id": conditions, "series_id": series,
            "revision": 1, "status": "acknowledged" if seen else "issued", "goals": "{}", "inputs": "{}",
            "result": "{}", "engine_version": "2026.4", "created_at": text(at), "created_by": self.lead,
            "issued_at": text(at), "issued_by": self.lead,
            "acknowledged_at": text(at + datetime.timedelta(hours=3)) if seen else None, "version": 1,
            "updated_at": text(at),
        }
        self.out.add("recommendations", **row)
        return row

    def dig(self, where, sheet, at, off, ground):
        soil, cover = ground
        self.serial += 1
        ident, cause = self.ids(), self.dice.choice(CAUSES)
        found = round(off + self.dice.gauss(0, 1500))
        depths = {}
        for _ in range(20):
            at_bin = max(-24, min(24, round((found + self.dice.gauss(0, 3000)) / BIN)))
            depths[at_bin] = depths.get(at_bin, 0) + 1
        within = sum(count for at_bin, count in depths.items() if abs(at_bin) <= 2)
        load = round(self.dice.gauss(750, 180)) if self.dice.random() < 0.3 else None
        felt = self.dice.random() < 0.6
        inside = felt if load is None else 600 <= load <= 890
        self.out.add(
            "dig_checks", practice_id=self.practice, id=ident, recommendation_id=sheet["id"], dug_at=text(at),
            observation="{}", result="{}", created_at=text(at), created_by=self.lead,
            fingerprint=f"{self.serial:064x}", notices="[]",
        )
        self.out.add(
            "season_digs", practice_id=self.practice, id=ident, series_id=sheet["series_id"], **where,
            dug_at=text(at), soil=soil, cover=cover, once=1, tells=1, depth_inside=int(abs(found) <= TOLERANCE),
            load_inside=int(inside), off_um=found, tolerance_um=TOLERANCE,
            speed_mm_s=round(self.dice.uniform(1700, 2700)), load_n=load,
            depths=json.dumps(sorted(depths.items()), separators=(",", ":")), seeds_within=within, seeds=20,
            cause=json.dumps(cause) if cause else None,
            iron=json.dumps([cause] if cause in IRON else [], separators=(",", ":")),
        )
        # Looked at, and found to teach nothing.
        self.out.add(
            "dig_lessons", practice_id=self.practice, id=ident, seq=self.serial, **where, season=at.year,
            soil=soil, cover=cover, dug_at=text(at), event=None, created_at=text(at),
        )
        if self.dice.random() < 0.5:
            status = self.dice.choice(["proposed", "accepted", "accepted", "declined"])
            decided = None if status == "proposed" else text(at + datetime.timedelta(hours=1))
            self.out.add(
                "adjustments", practice_id=self.practice, id=self.ids(), dig_check_id=ident,
                recommendation_id=sheet["id"], status=status, proposal="{}", decided_at=decided,
                decided_by=self.lead if decided else None, created_at=text(at), version=1, updated_at=text(at),
            )


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("file")
    arguments.add_argument("--growers", type=int, default=2000)
    arguments.add_argument("--fields", type=int, default=10, help="of each grower")
    arguments.add_argument("--digs", type=int, default=10, help="of each field")
    arguments.add_argument("--advisors", type=int, default=20)
    arguments.add_argument("--seed", type=int, default=7)
    asked = arguments.parse_args()
    start = time.monotonic()
    db = sqlite3.connect(asked.file)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA synchronous = OFF")
    practice = Practice(db, random.Random(asked.seed))
    advisors = practice.advisors(asked.advisors)
    for number in range(asked.growers):
        practice.grower(number, advisors[number % len(advisors)], asked.fields, asked.digs)
        if number % 100 == 99:
            practice.out.flush()
    practice.out.add("lesson_counters", practice_id=practice.practice, seq=practice.serial, generation=0)
    practice.out.flush()
    db.commit()
    db.execute("PRAGMA foreign_keys = ON")
    broken = db.execute("PRAGMA foreign_key_check").fetchone()
    assert broken is None, broken
    db.execute("ANALYZE")
    db.commit()
    digs = asked.growers * asked.fields * asked.digs
    print(f"{asked.growers} growers, {asked.growers * asked.fields} fields, {digs} digs "
          f"in {time.monotonic() - start:.0f} s")


if __name__ == "__main__":
    main()
