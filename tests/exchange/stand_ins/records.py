"""What all stand-ins share: a small server of the standard library that can be told to misbehave.

A stand-in prints `listening at http://127.0.0.1:PORT` and serves until it is ended. `POST /_told` with a JSON object
changes how it behaves: {"fields": 10000, "what": "malformed"}. Each word stands for one fault of real systems:

  expired_tokens    tokens that were given are refused from now on
  refuses           nobody is let in
  busy              the next request is answered 429, with Retry-After: 1
  always_busy       each request is answered 429, with Retry-After: 3600
  repeats           a page leads to itself
  elsewhere         a page leads to another host
  no_id             one field has no id
  swapped           one field has latitude before longitude
  wrong_unit        areas come in another unit than said
  crossing          the edges of one boundary cross
  redirect          fields are behind a redirect to a private address
  endless           the list of fields has no end
  malformed         the list of fields breaks off in the middle
  other_letters     the list of fields is not UTF-8
  page_for_people   the list of fields is a page for a browser
  one_gone          one field was deleted
  renamed           one field has another name
  empty             the list of fields is empty
"""

import hashlib
import http.server
import json
import sys
import urllib.parse


class StandIn(http.server.BaseHTTPRequestHandler):
    """One request. A stand-in says what it answers in `page`."""

    protocol_version = "HTTP/1.1"
    told = {"what": "", "fields": 12}
    asked = []
    made = {}
    page_size = 5

    def log_message(self, *_):
        pass

    def do_POST(self):
        body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
        if self.path == "/_told":
            type(self).told = {**type(self).told, **json.loads(body)}
            if self.told["what"] == "expired_tokens":
                self.expire()
            return self.say(200, self.told)
        return self.posted(self.path, body.decode())

    def do_GET(self):
        address = urllib.parse.urlsplit(self.path)
        query = dict(urllib.parse.parse_qsl(address.query))
        if address.path == "/_asked":
            return self.say(200, self.asked)
        self.asked.append({"path": self.path, "agent": self.headers.get("User-Agent")})
        what = self.told["what"]
        if what == "busy":
            self.told["what"] = ""
            return self.say(429, {"error": "slowly"}, {"Retry-After": "1"})
        if what == "always_busy":
            return self.say(429, {"error": "slowly"}, {"Retry-After": "3600"})
        if what == "refuses" or not self.lets_in():
            return self.say(401, {"error": "who are you"})
        if self.is_fields(address.path) and self.misbehaves(what):
            return None
        return self.page(address.path, query)

    def posted(self, _path, _body):
        return self.say(404, {"error": "nothing here"})

    def expire(self):
        """Makes tokens that were given worthless."""

    def lets_in(self):
        return True

    def misbehaves(self, what):
        """Answers in a way that no page is."""
        if what == "redirect":
            self.say(302, {}, {"Location": "http://10.11.12.13/fields"})
        elif what == "malformed":
            self.send(200, b'{"data": [{"uid": "f', "application/json")
        elif what == "other_letters":
            self.send(200, '{"data": [{"uid": "f", "label": "Größe"}]}'.encode("cp1252"), "application/json")
        elif what == "page_for_people":
            self.send(200, b"<!doctype html><title>Sign in</title>", "text/html")
        elif what == "endless":
            self.endless()
        else:
            return False
        return True

    def endless(self):
        """2 GB and more, as fast as it is taken."""
        self.send_response(200)
        self.send_header("Content-Type", "application/json")
        self.send_header("Connection", "close")
        self.end_headers()
        self.close_connection = True
        part = b"[" + b'"",' * 21845
        try:
            for _ in range(33_000):
                self.wfile.write(part)
        except OSError:
            type(self).told["broken_off"] = True

    def kept(self, path, make):
        """The rows of a list, made once for each mood."""
        mood = (path, json.dumps(self.told))
        if mood not in self.made:
            self.made[mood] = make()
        return self.made[mood]

    def cut(self, rows, query):
        """The rows of a page, and the number of the next one."""
        size = int(query.get("limit", self.page_size))
        number = int(query.get("page", "1"))
        begin = (number - 1) * size
        return rows[begin : begin + size], (number + 1 if begin + size < len(rows) else None)

    def say(self, status, body, headers=None):
        """JSON with its version; 304 to whoever has it."""
        data = json.dumps(body).encode()
        tag = f'"{hashlib.sha256(data).hexdigest()[:16]}"'
        if status == 200 and self.headers.get("If-None-Match") == tag:
            return self.send(304, b"", None, {"ETag": tag})
        return self.send(status, data, "application/json", {"ETag": tag, **(headers or {})})

    def send(self, status, data, kind, headers=None):
        self.send_response(status)
        for name, value in (headers or {}).items():
            self.send_header(name, value)
        if kind:
            self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)


def spoiled(what, number, ring):
    """The ring of a field as a system in this mood gives it."""
    if number == 1 and what == "swapped":
        return [[latitude, longitude] for longitude, latitude in ring]
    if number == 1 and what == "crossing":
        return [ring[0], ring[2], ring[1], ring[3], ring[0]]
    return ring


def name_of(what, number, name):
    return f"{name} (new)" if what == "renamed" and number == 2 else name


def left(what, rows):
    """The rows of the fields as a system in this mood has them."""
    if what == "empty":
        return []
    return rows[:3] + rows[4:] if what == "one_gone" else rows


def serve(handler):
    """On the port that is asked for, or on any."""
    port = int(sys.argv[1]) if len(sys.argv) > 1 else 0
    server = http.server.ThreadingHTTPServer(("127.0.0.1", port), handler)
    print(f"listening at http://127.0.0.1:{server.server_address[1]}", flush=True)
    server.serve_forever()
