"""A receiver of notices: checks each with the reference library of Standard Webhooks (PyPI) and answers.

Prints its address, then serves until it is ended. `POST /secret` sets the secret that it knows, `GET /seen` tells what came
in, anything else is a notice.
"""

import json
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from standardwebhooks.webhooks import Webhook, WebhookVerificationError

STATE = {"secret": None, "seen": []}


class Receiver(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def answer(self, status, body=b""):
        self.send_response(status)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def do_GET(self):
        self.answer(200, json.dumps(STATE["seen"]).encode())

    def do_POST(self):
        body = self.rfile.read(int(self.headers["Content-Length"]))
        if self.path == "/secret":
            STATE["secret"] = body.decode()
            return self.answer(204)
        seen = {"id": self.headers["webhook-id"], "type": self.headers["Content-Type"], "body": body.decode()}
        try:
            Webhook(STATE["secret"]).verify(body, dict(self.headers.items()))
            seen["good"] = True
        except WebhookVerificationError as error:
            seen["good"], seen["why"] = False, str(error)
        STATE["seen"].append(seen)
        return self.answer(204 if seen["good"] else 401)

    def log_message(self, *_):
        pass


server = ThreadingHTTPServer(("127.0.0.1", 0), Receiver)
print(f"http://127.0.0.1:{server.server_address[1]}", flush=True)
server.serve_forever()
