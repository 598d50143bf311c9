// A receiver of notices: checks each with the reference library of Standard Webhooks (npm), and an event with the
// library of CloudEvents, which holds it against the JSON schema of the standard.
//
// Prints its address, then serves until it is ended. `POST /secret` sets the secret that it knows, `GET /seen` tells what came
// in, anything else is a notice.
import { createServer } from "node:http";
import { createRequire } from "node:module";

const need = createRequire(`${process.env.EXCHANGE_NODE}/package.json`);
const { Webhook } = need("standardwebhooks");
const { HTTP } = need("cloudevents");

let secret;
const seen = [];

function checked(headers, body) {
  const came = { id: headers["webhook-id"], type: headers["content-type"], body };
  try {
    new Webhook(secret).verify(body, headers);
    if (came.type.startsWith("application/cloudevents+json")) {
      const event = HTTP.toEvent({ headers, body });
      event.validate();
      if (Number.isNaN(Date.parse(event.time))) throw new Error("the time of the event is none");
      if (event.id !== came.id) throw new Error("the id of the event is not that of the message");
      came.event = true;
    }
    came.good = true;
  } catch (error) {
    came.good = false;
    came.why = String(error.message);
  }
  return came;
}

// The library does refuse what is no event. It lets any time pass and makes up an id: both are looked at below.
const event = { specversion: "1.0", id: "1", type: "a.b", source: "/a", data: {} };
for (const bad of [{ ...event, source: undefined }, { ...event, type: undefined }]) {
  let refused = false;
  try {
    HTTP.toEvent({ headers: { "content-type": "application/cloudevents+json" }, body: JSON.stringify(bad) }).validate();
  } catch {
    refused = true;
  }
  if (!refused) throw new Error(`this is no event, and was taken for one: ${JSON.stringify(bad)}`);
}

const server = createServer(async (request, response) => {
  const parts = [];
  for await (const part of request) parts.push(part);
  const body = Buffer.concat(parts).toString("utf8");
  if (request.method === "GET") {
    response.end(JSON.stringify(seen));
  } else if (request.url === "/secret") {
    secret = body;
    response.writeHead(204).end();
  } else {
    const came = checked(request.headers, body);
    seen.push(came);
    response.writeHead(came.good ? 204 : 401).end();
  }
});
server.listen(0, "127.0.0.1", () => console.log(`http://127.0.0.1:${server.address().port}`));
