"""Signed notices, taken by receivers that are no part of the service: one in Python, one in Node.js, each with the
reference library of its registry. The service runs with the clock of the computer, so the libraries check the time too."""

import json
import os
import re
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

HERE = Path(__file__).parent
URL = os.environ["DIBBLE_URL"]
PYTHON = os.environ["EXCHANGE_PYTHON"]


def call(method, address, body=None, token=None):
    data = body if isinstance(body, bytes) else None if body is None else json.dumps(body).encode()
    headers = {"Content-Type": "application/json"} if data is not None else {}
    if token:
        headers["Authorization"] = f"Bearer {token}"
    request = urllib.request.Request(address, data, headers, method=method)
    with urllib.request.urlopen(request, timeout=30) as answer:
        text = answer.read()
    return json.loads(text) if text else None


def wait_for(what, found, seconds=20, said=lambda: ""):
    for _ in range(seconds * 10):
        if (value := found()) is not None:
            return value
        time.sleep(0.1)
    raise SystemExit(f"this did not come: {what} {said()}")


class Service:
    def __init__(self, url):
        who = {"email": "lead@example.org", "password": os.environ["DIBBLE_PASSWORD"]}
        self.url = url
        self.token = call("POST", f"{url}/v1/sessions", who)["access_token"]
        self.growers = 0

    def call(self, method, path, body=None):
        return call(method, f"{self.url}{path}", body, self.token)

    def change(self):
        """Something changes; gives the id of what is new."""
        self.growers += 1
        return self.call("POST", "/v1/growers", {"name": f"Grower {self.growers} of {os.getpid()}"})["id"]


class Receiver:
    def __init__(self, name, command):
        self.name = name
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        self.url = self.process.stdout.readline().strip()
        if not self.url.startswith("http://"):
            raise SystemExit(f"{name} does not start")

    def knows(self, secret):
        call("POST", f"{self.url}/secret", secret.encode())

    def seen(self):
        return call("GET", f"{self.url}/seen")

    def came(self, object_id):
        """What came in about an object, the last of it."""
        about = [it for it in self.seen() if json.loads(it["body"])["data"]["id"] == object_id]
        return about[-1] if about else None

    def stop(self):
        self.process.terminate()
        self.process.wait()


def expect(what, is_so):
    if not is_so:
        raise SystemExit(f"not so: {what}")


def check(service, receiver, form):
    name = f"{receiver.name}, {form}"
    made = service.call("POST", "/v1/webhooks", {"name": name, "url": f"{receiver.url}/notices", "form": form})
    path, first = f"/v1/webhooks/{made['webhook']['id']}", made["secret"]

    def deliveries():
        return json.dumps([service.call("GET", path), service.call("GET", f"{path}/deliveries")])

    def taken(object_id, good=True):
        came = wait_for(f"{name}: a notice", lambda: receiver.came(object_id), said=deliveries)
        expect(f"{name}: {came}", came["good"] == good)
        return came

    receiver.knows(first)
    came = taken(service.change())
    expect(f"{name}: the form", came["type"].startswith("application/cloudevents+json") == (form == "cloud_event"))
    service.call("POST", f"{path}/test")
    test = wait_for("a test notice", lambda: receiver.came(made["webhook"]["id"]))
    expect(f"{name}: a test notice", test["good"] and json.loads(test["body"])["type"] == "webhook.tested")

    # While the secret is changed, the old one is good and so is the new one.
    second = service.call("POST", f"{path}/rotation", {"overlap_hours": 1})["secret"]
    taken(service.change())
    receiver.knows(second)
    taken(service.change())
    # Then only the newest.
    third = service.call("POST", f"{path}/rotation", {"overlap_hours": 0})["secret"]
    refused = service.change()
    taken(refused, good=False)

    def failed():
        waiting = service.call("GET", f"{path}/deliveries?status=waiting")["items"]
        return next((it for it in waiting if it["object_id"] == refused and it.get("last_status") == 401), None)

    delivery = wait_for(f"{name}: the refusal is noted", failed)
    receiver.knows(third)
    service.call("POST", f"{path}/deliveries/{delivery['id']}/replay")
    again = wait_for(f"{name}: sent again", lambda: (it := receiver.came(refused)) and it["good"] and it or None)
    expect(f"{name}: the same id", again["id"] == delivery["message_id"])
    service.call("DELETE", path)
    print(f"{name}: signatures hold, two while the secret changes; a wrong one is refused, and sent again it holds")


def no_secret_in_the_log(receiver):
    """A service of its own that logs all it can: no secret stands there, nor in the database."""
    folder = Path(os.environ["EXCHANGE_DIR"])
    database = folder / "logged.sqlite"
    env = {**os.environ, "DATABASE_URL": f"sqlite://{database}"}
    binary = os.environ["DIBBLE_BINARY"]
    who = ["--practice", "Prairie Advisors", "--email", "lead@example.org", "--role", "lead"]
    subprocess.run([binary, "account", "add", *who], env=env, check=True, capture_output=True)
    log = folder / "log"
    with log.open("wb") as out:
        serve = [binary, "serve", "--address", "127.0.0.1:0", "--log", "trace", "--log-format", "json"]
        process = subprocess.Popen(serve, env=env, stdout=out, stderr=subprocess.STDOUT)
    try:
        listening = re.compile(r'"address":"([^"]+)"')
        address = wait_for("a service that logs", lambda: listening.search(log.read_text()))
        service = Service(f"http://{address.group(1)}")
        made = service.call("POST", "/v1/webhooks", {"name": "Logged", "url": f"{receiver.url}/notices"})
        path = f"/v1/webhooks/{made['webhook']['id']}"
        second = service.call("POST", f"{path}/rotation", {"overlap_hours": 1})["secret"]
        receiver.knows(second)
        object_id = service.change()
        expect("the notice came", wait_for("a notice", lambda: receiver.came(object_id))["good"])
    finally:
        process.terminate()
        process.wait()
    written = log.read_bytes()
    expect("it logged a lot", len(written) > 10_000 and b"/v1/webhooks" in written)
    kept = b"".join(file.read_bytes() for file in folder.glob("logged.sqlite*") if file.suffix != ".sealing-key")
    for secret in (made["secret"], second):
        bare = secret.removeprefix("whsec_").encode()
        expect("no secret in the log", bare not in written)
        expect("no secret in the database", bare not in kept)
    print(f"secrets: none in {len(written)} bytes of log, none in {len(kept)} bytes of database")


def main():
    service = Service(URL)
    commands = {"Python": [PYTHON, str(HERE / "receiver.py")], "Node.js": ["node", str(HERE / "receiver.mjs")]}
    receivers = []
    try:
        for name, command in commands.items():
            receivers.append(Receiver(name, command))
        for receiver in receivers:
            for form in ["plain", "cloud_event"]:
                check(service, receiver, form)
        events = [it for it in receivers[1].seen() if it.get("event")]
        expect("events were checked by the library of CloudEvents", len(events) >= 4)
        no_secret_in_the_log(receivers[0])
    finally:
        for receiver in receivers:
            receiver.stop()


try:
    main()
except urllib.error.HTTPError as error:
    sys.exit(f"{error.url}: {error.code} {error.read().decode()}")
