"""Measures reports of a season that was filled by fill.py, against the same sums in DuckDB.

    DIBBLE_PASSWORD=… python3 measure.py load.sqlite http://127.0.0.1:8180 lead@load.example [--short]

Prints medians, and ratios to DuckDB in the same run. The sums of DuckDB are made from the facts of digs,
which are read into its own tables first, so that it is measured at what it does best; the report of the
service also holds the rest: revisions, adjustments, weeks, advisors, what digs taught. `--short` fails when
a figure of the two differs, or a report took more than ten seconds: it is a check, not a measurement.
"""

import argparse
import csv
import json
import os
import sqlite3
import statistics
import tempfile
import time
import urllib.error
import urllib.request

import duckdb

FACTS = """SELECT hex(planter_id) AS planter, hex(field_id) AS field, hex(id) AS id, dug_at, soil, cover,
    depth_inside, load_inside, load_n, speed_mm_s, depths FROM season_digs WHERE once AND tells"""

# First and last dig of each field, by soil and cover; digs by week; loads by speed; seed by depth.
SUMS = [
    """WITH ordered AS (
        SELECT soil, cover, planter, field, depth_inside AND load_inside AS inside,
            row_number() OVER (PARTITION BY planter, field ORDER BY dug_at, id) AS nth,
            row_number() OVER (PARTITION BY planter, field ORDER BY dug_at DESC, id DESC) AS from_last
        FROM digs)
    SELECT soil, cover, count(*) FILTER (WHERE nth = 1) AS fields, count(*) FILTER (WHERE nth = 1 AND inside) AS first,
        count(*) FILTER (WHERE from_last = 1 AND inside) AS last
    FROM ordered GROUP BY ALL ORDER BY ALL""",
    "SELECT date_trunc('week', dug_at) AS week, count(*) FROM digs GROUP BY ALL ORDER BY ALL",
    """SELECT round(speed_mm_s / 112), round(load_n / 50), count(*), count(*) FILTER (WHERE load_inside)
    FROM digs WHERE load_n IS NOT NULL GROUP BY ALL ORDER BY ALL""",
    """SELECT pair[1], sum(pair[2]) FROM (SELECT unnest(depths) AS pair FROM digs) GROUP BY ALL ORDER BY ALL""",
]


def call(base, path, token=None, body=None):
    request = urllib.request.Request(base + path, data=body and json.dumps(body).encode())
    request.add_header("Content-Type", "application/json")
    if token:
        request.add_header("Authorization", f"Bearer {token}")
    while True:
        try:
            with urllib.request.urlopen(request) as answer:
                return json.load(answer)
        except urllib.error.HTTPError as refused:
            # The seasons of a file that was filled past the service are counted when it starts.
            if refused.code != 503:
                raise
            time.sleep(float(refused.headers["Retry-After"]))


def median(work, times):
    took = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return statistics.median(took) * 1000


def facts(file):
    """The facts of digs in tables of DuckDB's own."""
    rows = sqlite3.connect(f"file:{file}?mode=ro", uri=True).execute(FACTS)
    db = duckdb.connect()
    db.execute("""CREATE TABLE digs (planter VARCHAR, field VARCHAR, id VARCHAR, dug_at TIMESTAMP, soil VARCHAR,
        cover VARCHAR, depth_inside BOOLEAN, load_inside BOOLEAN, load_n BIGINT, speed_mm_s BIGINT,
        depths BIGINT[][])""")
    with tempfile.NamedTemporaryFile("w", suffix=".csv", newline="") as out:
        csv.writer(out).writerows(rows)
        out.flush()
        db.execute(f"COPY digs FROM '{out.name}' (HEADER false)")
    return db


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("file")
    arguments.add_argument("base")
    arguments.add_argument("email")
    arguments.add_argument("--short", action="store_true")
    asked = arguments.parse_args()
    signed_in = {"email": asked.email, "password": os.environ["DIBBLE_PASSWORD"]}
    token = call(asked.base, "/v1/sessions", body=signed_in)["access_token"]
    path = "/v1/seasons/2026/report"
    start = time.perf_counter()
    whole = call(asked.base, path, token)
    first = (time.perf_counter() - start) * 1000
    grower = call(asked.base, "/v1/growers?limit=1", token)["items"][0]["id"]
    db = facts(asked.file)
    cells = db.execute(SUMS[0]).fetchall()
    counted = [sum(row[n] for row in cells) for n in (2, 3, 4)]
    window = whole["in_window"]["all"]
    shown = [window["fields_dug"], window["first_pass"]["count"], window["after_adjustment"]["count"]]
    assert counted == shown, f"{counted} in DuckDB, {shown} in the report"
    digs = db.execute("SELECT count(*) FROM digs").fetchone()[0]
    assert digs == whole["about"]["digs"], f"{digs} in DuckDB, {whole['about']['digs']} in the report"
    times = 3 if asked.short else 15
    report = median(lambda: call(asked.base, path, token), times)
    own = median(lambda: call(asked.base, f"{path}?grower_id={grower}", token), times)
    seasons = median(lambda: call(asked.base, "/v1/seasons", token), times)
    columns = median(lambda: [db.execute(sums).fetchall() for sums in SUMS], times)
    assert not asked.short or report < 10_000, f"{report:.0f} ms"
    print(f"{digs} digs, {whole['about']['fields']} fields, {whole['about']['growers']} growers")
    print(f"report of the practice: {report:.0f} ms warm ({first:.0f} ms the first time), "
          f"{report / columns:.2f} times DuckDB")
    print(f"report of a grower:     {own:.0f} ms (with the other growers together)")
    print(f"list of seasons:        {seasons:.0f} ms")
    print(f"the sums in DuckDB:     {columns:.0f} ms")


if __name__ == "__main__":
    main()
