"""Follows openapi/CONNECT.md as a stranger would, with the records system of one shape.

connect.py DOCUMENT FOLDER; the shape stands in SHAPE, the service in DIBBLE_URL (tests/gate/serve.sh).
The blocks of the document are typed into one shell. This script is the reader: it puts in the values that only the
reader knows, runs the receiver, is the advisor who issues a sheet, and looks at what came of each step.
"""

import json
import os
import pathlib
import re
import socket
import subprocess
import sys
import time
import urllib.request
import zipfile
from datetime import UTC, datetime

document, folder = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
shape, service = os.environ["SHAPE"], os.environ["DIBBLE_URL"]
here = pathlib.Path(__file__).parent.resolve()
started = []
checks = 0

VALUES = {
    "nested": {"https://records.example.org/api": "{base}/api", "your key": "invented-key-1"},
    "flat": {
        "https://records.example.org/v2": "{base}/v2",
        "https://records.example.org/oauth": "{base}/oauth",
        "your client": "invented-client",
        "your secret": "invented:secret &1",
    },
    "features": {"https://records.example.org/collections": "{base}/collections"},
}
NAME_POINTER = {"nested": "/label", "flat": "/parcel_name", "features": "/properties/name"}


def holds(truth, words):
    global checks
    checks += 1
    if not truth:
        raise SystemExit(f"{shape}: does not hold: {words}")


def blocks(text):
    """The fenced blocks: what stands behind the fence, and the text."""
    return re.findall(r"^```([^\n]*)\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


def start(command, **more):
    """A process that says where it listens, if it says anything."""
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, **more)
    started.append(process)
    return process


def call(path, token=None, body=None, method=None, **headers):
    data = json.dumps(body).encode() if body is not None else None
    request = urllib.request.Request(service + path, data=data, method=method, headers=headers)
    if token:
        request.add_header("Authorization", f"Bearer {token}")
    if data is not None:
        request.add_header("Content-Type", "application/json")
    with urllib.request.urlopen(request) as answer:
        return json.loads(answer.read() or "null")


class Shell:
    """One shell for all blocks, as the document says."""

    def __init__(self, values):
        environment = {**os.environ, **values}
        self.bash = subprocess.Popen(
            ["bash"], cwd=folder, env=environment, text=True, stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
        )
        started.append(self.bash)
        self.types("set -o pipefail")

    def types(self, block):
        """Types a block and gives what was printed; the block must not fail."""
        # As it is typed: each line is carried out before the next is read.
        mark = f"-- {time.monotonic_ns()} --"
        self.bash.stdin.write(f"set -e\n{block}\nset +e\necho '{mark}'\n")
        self.bash.stdin.flush()
        said = ""
        for line in self.bash.stdout:
            if line.strip() == mark:
                return said
            said += line
        raise SystemExit(f"{shape}: a block failed:\n{block}\n{said}")


def issued():
    """An advisor issues a sheet for a field that came from the records system; gives its id."""
    password = os.environ["DIBBLE_PASSWORD"]
    who = {"email": "advisor@example.org", "password": password}
    token = call("/v1/sessions", body=who)["access_token"]
    fields = call("/v1/fields?limit=200", token)["items"]
    holds(len(fields) == 12, f"12 fields came, not {len(fields)}")
    farm = call(f"/v1/farms/{fields[0]['farm_id']}", token)
    makeup = json.loads((here.parent / "clients" / "job.json").read_text())["makeup"]
    planter = {"grower_id": farm["grower_id"], "name": "The eight-row", "makeup": makeup}
    planter = call("/v1/planters", token, planter)["id"]
    now = datetime.now(UTC)
    seen = {"observed_at": now.strftime("%Y-%m-%dT%H:%M:%SZ"), "crop": "corn", "planting_date": str(now.date())}
    seen = call(f"/v1/fields/{fields[0]['id']}/conditions", token, seen)["id"]
    wanted = {"field_id": fields[0]["id"], "planter_id": planter, "conditions_id": seen, "goals": {}}
    sheet = call("/v1/recommendations", token, wanted)["id"]
    call(f"/v1/recommendations/{sheet}/issue", token, method="POST", **{"If-Match": "*"})
    return sheet


def notice(receiver):
    """The next notice that the receiver could verify."""
    line = receiver.stdout.readline()
    holds(line, "a notice came")
    return json.loads(line)


def main():
    all_blocks = blocks(document.read_text(encoding="utf-8"))
    typed = [text for name, text in all_blocks if name == "sh"]
    [link] = [text for name, text in all_blocks if name == f"json {shape}"]
    [receiver_code] = [text for name, text in all_blocks if name == "python"]
    holds(len(typed) == 8, f"the document has 8 blocks to type, not {len(typed)}")
    sign_in, make, mend, look, take, webhook, *rest = typed

    system = start([sys.executable, "-B", str(here / "stand_ins" / f"{shape}.py")])
    base = system.stdout.readline().strip().removeprefix("listening at ")
    for before, after in VALUES[shape].items():
        link = link.replace(before, after.replace("{base}", base))
    (folder / "link.json").write_text(json.dumps(json.loads(link), indent=2))
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    shell = Shell({
        "DIBBLE": service, "EMAIL": "records_system@example.org", "PASSWORD": os.environ["DIBBLE_PASSWORD"],
        "NOTICES": f"http://127.0.0.1:{port}/notices", "LINK": "link.json", "NAME_POINTER": NAME_POINTER[shape],
    })
    shell.types(sign_in)
    said = shell.types(make)
    holds('"good": false' in said and "title" in said, f"the first test says that the name is wrong: {said}")
    holds(shell.types(mend).strip() == "True", "the second test is good")
    said = shell.types(look)
    holds('"created": 12' in said, f"the preview would make 12 fields: {said}")
    preview = json.loads((folder / "preview.json").read_text())["run"]
    holds(preview["status"] == "done", "the preview is done")
    said = shell.types(take)
    holds('"created": 12' in said, f"12 fields are made: {said}")
    shell.types(webhook)
    (folder / "receiver.py").write_text(receiver_code)
    environment = {**os.environ, "PORT": str(port)}
    receiver = start([sys.executable, "-B", "receiver.py"], cwd=folder, env=environment, stderr=subprocess.DEVNULL)
    time.sleep(1)
    return shell, receiver, rest


def finish(shell, receiver, rest):
    test, fetch = rest
    shell.types(test)
    tested = notice(receiver)
    holds(tested["type"] == "webhook.tested", f"a test notice came: {tested}")
    sheet = issued()
    published = notice(receiver)
    holds(published["type"] == "settings_sheet.published", f"the news came: {published}")
    holds(sheet in json.dumps(published), "it names the sheet")
    shell.types(f"SHEET={sheet}")
    shell.types(fetch)
    holds(json.loads((folder / "sheet.json").read_text())["id"] == sheet, "the sheet is there")
    adapt = json.loads((folder / "adapt.json").read_text())
    holds(adapt["documents"]["recommendations"], "the ADAPT document holds a recommendation")
    with zipfile.ZipFile(folder / "task-data.zip") as archive:
        names = [name.upper() for name in archive.namelist()]
        holds("TASKDATA/TASKDATA.XML" in names, f"the task data is there: {names}")


try:
    begun = time.monotonic()
    finish(*main())
    print(f"{shape}: five steps, {checks} checks held, {time.monotonic() - begun:.1f} s")
finally:
    for process in started:
        process.kill()
