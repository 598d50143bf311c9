"""Records systems that are processes of their own, each of another shape, fetched by a running service.

Each is fetched as it is, then told to misbehave in every way it knows; what the service says is held against what
it must say, and that nothing was half taken.
"""

import json
import os
import pathlib
import subprocess
import sys
import time
import urllib.error
import urllib.request

here = pathlib.Path(__file__).parent.resolve()
service = os.environ["DIBBLE_URL"]
checks = 0

DOCUMENT = (here.parents[2] / "openapi" / "CONNECT.md").read_text(encoding="utf-8")
VALUES = {
    "nested": [("https://records.example.org/api", "{base}/api"), ("your key", "invented-key-1"), ("/title", "/label")],
    "flat": [
        ("https://records.example.org/v2", "{base}/v2"),
        ("https://records.example.org/oauth", "{base}/oauth"),
        ("your client", "invented-client"),
        ("your secret", "invented:secret &1"),
        ("/title", "/parcel_name"),
    ],
    "features": [("https://records.example.org/collections", "{base}/collections"), ("/title", "/name")],
}
# What ends a run, and the word that says why.
ENDS = {
    "refuses": "sign_in_refused",
    "always_busy": "busy",
    "redirect": "address_refused",
    "endless": "too_large",
    "malformed": "not_json",
    "other_letters": "not_json",
    "page_for_people": "not_json",
    "repeats": "page_repeats",
    "elsewhere": "other_origin",
}
# What makes one record or more be refused, and what the reason speaks of.
REFUSES = {"no_id": "id", "swapped": "latitude", "wrong_unit": "unit", "crossing": "simple"}


def holds(truth, words):
    global checks
    checks += 1
    if not truth:
        sys.exit(f"does not hold: {words}")


def call(path, body=None, method=None, base=service, **headers):
    data = json.dumps(body).encode() if body is not None else None
    request = urllib.request.Request(base + path, data=data, method=method, headers=headers)
    if data is not None:
        request.add_header("Content-Type", "application/json")
    with urllib.request.urlopen(request) as answer:
        return json.loads(answer.read() or "null")


class Link:
    """A link to a stand-in, made from the example of the document."""

    def __init__(self, shape, base):
        self.base = base
        text = DOCUMENT.split(f"```json {shape}\n")[1].split("```")[0]
        for before, after in VALUES[shape]:
            text = text.replace(before, after.replace("{base}", base))
        body = {**json.loads(text), "changes": {"kind": "etag"}}
        who = {"email": "lead@example.org", "password": os.environ["DIBBLE_PASSWORD"]}
        self.token = {"Authorization": "Bearer " + call("/v1/sessions", who)["access_token"]}
        self.path = "/v1/records-links/" + call("/v1/records-links", body, **self.token)["id"]

    def told(self, **what):
        call("/_told", what, base=self.base)

    def test(self):
        return call(self.path + "/test", method="POST", **self.token)

    def run(self, mode="apply", everything=False):
        run = call(self.path + "/runs", {"mode": mode, "everything": everything}, **self.token)
        while True:
            read = call(f"{self.path}/runs/{run['id']}", **self.token)
            if read["run"]["status"] in ("done", "failed"):
                return read
            time.sleep(0.1)

    def fields(self):
        page = call("/v1/fields?limit=200", **self.token)
        return sorted((it["id"], it["name"], it["version"]) for it in page["items"])


def counts(run, kind="field"):
    holds(run["run"]["status"] == "done", f"the run is done: {run}")
    return next(it for it in run["run"]["counts"] if it["kind"] == kind)


def as_it_is(shape, link):
    """The system behaves: everything comes once, and the second time nothing is to be done."""
    tested = link.test()
    holds(tested["good"], f"{shape}: the test is good: {tested}")
    holds("secret" not in json.dumps(tested).replace("secret_set", ""), f"{shape}: no secret is shown")
    holds(counts(link.run("preview"))["created"] == 12, f"{shape}: 12 fields would be made")
    holds(counts(link.run())["created"] == 12, f"{shape}: 12 fields are made")
    again = counts(link.run())
    holds(again["not_modified"], f"{shape}: every page is as it was: {again}")
    again = counts(link.run(everything=True))
    holds((again["unchanged"], again["missing"]) == (12, 0), f"{shape}: nothing to do: {again}")


def ends(shape, link):
    """Faults that end a run: a word says why, and nothing is another than before."""
    for what, code in ENDS.items():
        if (shape, what) == ("flat", "elsewhere"):
            continue  # A cursor names no host.
        before = link.fields()
        link.told(what=what)
        run = link.run(everything=True)
        holds(run["run"]["status"] == "failed", f"{shape}, {what}: the run failed: {run}")
        holds(run["stopped"]["code"] == code, f"{shape}, {what}: {code} is said: {run['stopped']}")
        holds(link.fields() == before, f"{shape}, {what}: nothing was taken")
        link.told(what="")


def goes_on(shape, link):
    """Faults that one gets over."""
    link.told(what="busy")
    begun = time.monotonic()
    holds(counts(link.run(everything=True))["unchanged"] == 12, f"{shape}: all came after a wait")
    holds(time.monotonic() - begun >= 1, f"{shape}: the wait that was asked for")
    link.told(what="expired_tokens")
    holds(counts(link.run(everything=True))["unchanged"] == 12, f"{shape}: all came with a new token")
    link.told(what="")


def refuses(shape, link):
    """Records that are wrong: they are named, and the others are taken."""
    for what, word in REFUSES.items():
        link.told(what=what)
        run = link.run("preview")
        refused = [row for row in run["rows"] if row["outcome"] == "refused"]
        reasons = " ".join(bad["detail"] for row in refused for bad in row["refused"])
        wanted = 12 if what == "wrong_unit" else 1
        holds(len(refused) == wanted, f"{shape}, {what}: {wanted} refused: {refused}")
        holds(word in reasons, f"{shape}, {what}: the reason speaks of {word}: {reasons}")
        holds(counts(run)["unchanged"] == 12 - wanted, f"{shape}, {what}: the others are as they were")
        link.told(what="")


def changes(shape, link):
    """What is changed over there comes; what is gone is marked and stays."""
    before = len(link.fields())
    link.told(what="renamed")
    holds(counts(link.run())["changed"] == 1, f"{shape}: one field has another name")
    holds(any(name == "East (new)" for _, name, _ in link.fields()), f"{shape}: the new name is here")
    link.told(what="one_gone")
    run = link.run(everything=True)
    holds(counts(run)["missing"] == 1, f"{shape}: one field is missing: {run}")
    link.told(what="empty")
    run = link.run(everything=True)
    holds(counts(run)["missing"] == 0 and "empty" in json.dumps(run["notes"]), f"{shape}: an empty list marks none")
    holds(len(link.fields()) == before, f"{shape}: nothing was deleted")
    link.told(what="")


for shape in VALUES:
    system = subprocess.Popen([sys.executable, "-B", here / f"{shape}.py"], stdout=subprocess.PIPE, text=True)
    try:
        link = Link(shape, system.stdout.readline().strip().removeprefix("listening at "))
        for part in (as_it_is, ends, goes_on, refuses, changes):
            part(shape, link)
        # The next shape gives the same names; they are other fields of other growers.
        call(link.path, method="DELETE", **link.token)
        for row in call("/v1/growers?limit=200", **link.token)["items"]:
            call(f"/v1/growers/{row['id']}/erasure", {"reason": "end of the check"}, **link.token, **{"If-Match": "*"})
    finally:
        system.kill()
    print(f"{shape}: {checks} checks held so far")
