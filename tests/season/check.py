"""Fetches every form of a season from the demo and checks each with a library that is not ours.

check.py WHAT_THE_DEMO_SAID FOLDER_FOR_THE_FORMS
"""
import datetime
import json
import pathlib
import re
import sys
import urllib.request
import zipfile

import icalendar
import openpyxl
import pypdf
from frictionless import Package

said = pathlib.Path(sys.argv[1]).read_text(encoding="utf-8")
folder = pathlib.Path(sys.argv[2])
folder.mkdir(parents=True)
base = re.search(r"ready at (http://\S+?) ", said).group(1)
checks = 0


def holds(truth, words):
    """Counts a check, and ends the run where it does not hold."""
    global checks
    checks += 1
    if not truth:
        sys.exit(f"does not hold: {words}")


def call(path, token=None, body=None, method=None):
    """The answer's body and headers."""
    data = json.dumps(body).encode() if body is not None else None
    request = urllib.request.Request(base + path, data=data, method=method)
    if method:
        request.add_header("If-Match", "*")
    if token:
        request.add_header("Authorization", f"Bearer {token}")
    if body is not None:
        request.add_header("Content-Type", "application/json")
    with urllib.request.urlopen(request) as answer:
        return answer.read(), answer.headers


def signed_in(kind):
    """The token of the first account of a kind that the demo names."""
    email, password = re.search(rf"^  {kind}\s.*?(\S+@\S+)\s+(\S+)$", said, re.MULTILINE).groups()
    return json.loads(call("/v1/sessions", body={"email": email, "password": password})[0])["access_token"]


def issue(token, like):
    """Issues a sheet for a field as it is today, so that a dig is due."""
    now = datetime.datetime.now(datetime.timezone.utc)
    seen = {"observed_at": now.strftime("%Y-%m-%dT%H:%M:%SZ"), "crop": "corn", "planting_date": str(now.date())}
    seen = json.loads(call(f"/v1/fields/{like['field_id']}/conditions", token, seen)[0])
    wanted = {"field_id": like["field_id"], "planter_id": like["planter_id"], "conditions_id": seen["id"], "goals": {}}
    made = json.loads(call("/v1/recommendations", token, wanted)[0])
    call(f"/v1/recommendations/{made['id']}/issue", token, method="POST")


def fetched(name, path, token, media_type):
    """The file of a form."""
    body, headers = call(path, token)
    holds(headers["Content-Type"].split(";")[0] == media_type, f"{path} is {media_type}")
    holds(headers["Cache-Control"] == "no-store", f"{path} is kept by nobody")
    (folder / name).write_bytes(body)
    return folder / name


def pdf(file, size, wanted, most):
    """Reads a document: pages with words, tags, a title, letters that are inside."""
    reader = pypdf.PdfReader(file)
    holds(1 <= len(reader.pages) <= most, f"{file.name}: {len(reader.pages)} pages, at most {most}")
    texts = [page.extract_text() for page in reader.pages]
    for page, text in zip(reader.pages, texts):
        holds([round(float(edge)) for edge in page.mediabox[2:]] == size, f"{file.name} is {size}")
        holds(len(text.split()) > 20, f"{file.name}: a page is empty")
        left, bottom, right, top = (float(edge) for edge in page.mediabox)

        def inside(text, _cm, tm, _font, size):
            if text.strip():
                holds(left <= tm[4] <= right and bottom <= tm[5] <= top, f"{file.name}: {text!r} is off the page")

        page.extract_text(visitor_text=inside)
        for font in page["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            holds("/FontFile2" in inner or "/FontFile3" in inner, f"{file.name}: letters are inside")
    whole = " ".join(" ".join(texts).split())
    for words in wanted:
        holds(words in whole, f"{file.name} says {words!r}")
    catalog = reader.trailer["/Root"]
    holds(catalog["/MarkInfo"]["/Marked"] and catalog["/Lang"] == "en", f"{file.name} is tagged")
    holds(bool(reader.metadata.title), f"{file.name} has a title")
    holds(b"pdfuaid" in catalog["/Metadata"].get_object().get_data(), f"{file.name} claims PDF/UA")
    return len(reader.pages)


def workbook(file, report):
    """Reads the workbook: heads that stay, typed cells, no formula."""
    book = openpyxl.load_workbook(file)
    wanted = ["read me", "summary", "fields", "digs", "adjustments", "stands", "trials", "wear", "shed list"]
    holds(book.sheetnames == wanted, f"sheets are {book.sheetnames}")
    for sheet in book:
        holds(sheet.title == "read me" or sheet.freeze_panes == "A2", f"{sheet.title}: the head stays")
        for row in sheet.iter_rows():
            holds(all(cell.data_type != "f" for cell in row), f"{sheet.title}: no formula")
    summary = {row[0]: row[1] for row in book["summary"].iter_rows(min_row=2, values_only=True)}
    holds(summary["digs"] == report["about"]["digs"], "the digs of the summary")
    holds(summary["recommendations issued"] == report["recommendations"]["issued"], "the sheets of the summary")
    digs = list(book["digs"].iter_rows(values_only=True))
    at = digs[0].index("dug at")
    holds(all(hasattr(row[at], "year") for row in digs[1:]), "times are times")
    at = digs[0].index("depth off (mm)")
    holds(any(isinstance(row[at], float) for row in digs[1:]), "depths are numbers")
    return len(digs) - 1


def package(file, report):
    """Validates the package, with what refers to what."""
    into = folder / file.stem
    with zipfile.ZipFile(file) as archive:
        holds(archive.testzip() is None, f"{file.name} is whole")
        archive.extractall(into)
    read = Package(str(into / "datapackage.json"))
    holds(len(read.resources) >= 9, f"{file.name} has tables")
    result = read.validate()
    holds(result.valid, f"{file.name}: {result.flatten(['name', 'type', 'rowNumber', 'fieldName', 'note'])[:5]}")
    rows = {resource.name: resource.read_rows() for resource in read.resources}
    keys = sum(len(resource.schema.foreign_keys) for resource in read.resources)
    holds(keys >= 10, f"{file.name}: {keys} foreign keys")
    # Each dig of the season once: what was sent twice is a row, but counts once.
    counted = [row for row in rows["digs"] if row["counts"]]
    holds(0 < len(counted) <= len(rows["digs"]), "digs that count")
    if report:
        seeds = sum(row["seeds"] for row in rows["digs"])
        holds(len(rows["digs"]) >= report["about"]["digs"] and seeds > 0, "digs of the report")
    # A broken reference is seen: else the check above would say nothing.
    broken = folder / (file.stem + "-broken")
    broken.mkdir()
    for source in into.iterdir():
        (broken / source.name).write_bytes(source.read_bytes())
    digs = (broken / "digs.csv").read_bytes()
    first = digs.split(b"\r\n")[1].split(b",")[1]
    (broken / "digs.csv").write_bytes(digs.replace(first, b"0" * 8 + first[8:], 1))
    holds(not Package(str(broken / "datapackage.json")).validate().valid, "a broken reference is seen")
    return {name: len(table) for name, table in rows.items()}


def calendar(file):
    """Reads the feed; the library is lenient, so what RFC 5545 asks is asked here."""
    raw = file.read_bytes()
    holds(b"\n" not in raw.replace(b"\r\n", b""), "lines of the feed end with CR LF")
    holds(all(len(line) <= 75 for line in raw.split(b"\r\n")), "lines of the feed are folded")
    feed = icalendar.Calendar.from_ical(raw)
    parts = [feed, *feed.walk("VEVENT")]
    for part in parts:
        holds([name for name in part.required if name not in part] == [], f"{part.name} has what it needs")
        holds(part.errors == [], f"{part.name}: {part.errors}")
    holds(len(parts) > 1, "the feed holds something")
    return len(parts) - 1


advisor, grower = signed_in("advisor"), signed_in("grower")
seasons = json.loads(call("/v1/seasons", advisor)[0])["items"]
season = max(seasons, key=lambda it: it["fields"])["season"]
report = json.loads(call(f"/v1/seasons/{season}/report", advisor)[0])
own = json.loads(call(f"/v1/seasons/{season}/report", grower)[0])
name = own["about"]["subject"]["name"]
path = f"/v1/seasons/{season}"
LETTER, A4 = [612, 792], [595, 842]
pages = []
for who, token, wanted in [("practice", advisor, [report["about"]["practice"]]), ("grower", grower, [name])]:
    fetched(f"{who}.html", f"{path}/report/page", token, "text/html")
    for paper, size in [("letter", LETTER), ("a4", A4)]:
        file = fetched(f"{who}-{paper}.pdf", f"{path}/report/pdf?paper={paper}", token, "application/pdf")
        pages.append(pdf(file, size, [*wanted, "What this report can't tell", f"Season {season}"], 14))
listed = json.loads(call("/v1/recommendations?limit=100", advisor)[0])["items"]
# Some of all: printing all of them takes minutes where the service was built without optimisation.
sheets = [it["id"] for it in listed[:: max(1, len(listed) // 8)]]
for number, sheet in enumerate(sheets):
    for paper, size in [("letter", LETTER), ("a4", A4)]:
        address = f"/v1/recommendations/{sheet}/sheet/pdf?paper={paper}"
        file = fetched(f"sheet-{number}-{paper}.pdf", address, advisor, "application/pdf")
        pdf(file, size, ["Settings sheet", "So that nobody gets hurt"], 1)
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
rows = workbook(fetched("practice.xlsx", f"{path}/workbook", advisor, XLSX), report)
workbook(fetched("grower.xlsx", f"{path}/workbook", grower, XLSX), own)
tables = package(fetched("practice.zip", f"{path}/data-package", advisor, "application/zip"), report)
package(fetched("grower.zip", f"{path}/data-package", grower, "application/zip"), own)
issue(advisor, listed[0])
made = json.loads(call("/v1/calendar-feeds", advisor, {})[0])
address = made["url"]
feed, headers = call(re.sub(r"^https?://[^/]+", "", address))
holds(headers["Content-Type"] == "text/calendar; charset=utf-8", "the feed is a calendar")
(folder / "feed.ics").write_bytes(feed)
events = calendar(folder / "feed.ics")
print(f"pypdf: reports of {pages} pages, {len(sheets)} settings sheets of one page, each on two papers")
print(f"openpyxl: two workbooks, {rows} digs")
print(f"frictionless: two packages, {tables}")
print(f"icalendar: {events} events")
print(f"{checks} checks held")
