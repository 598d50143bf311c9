// The main job through the generated TypeScript types: from signing in to the sheet after the dig.

import assert from "node:assert/strict";
import createClient from "openapi-fetch";
import type { components, paths } from "./api.js";
import { job } from "./data.js";

type Quantity = components["schemas"]["Quantity"];

function env(name: string): string {
  const value = process.env[name];
  assert(value, `${name} is not set`);
  return value;
}

async function got<T>(answer: Promise<{ data?: T; error?: unknown }>): Promise<T> {
  const { data, error } = await answer;
  assert(data !== undefined, JSON.stringify(error));
  return data;
}

const c = createClient<paths>({ baseUrl: env("DIBBLE_URL") });
const who = { email: env("DIBBLE_EMAIL"), password: env("DIBBLE_PASSWORD") };
const session = await got(c.POST("/v1/sessions", { body: who }));
const authorization = `Bearer ${session.access_token}`;
c.use({ onRequest: ({ request }) => request.headers.set("authorization", authorization) });

const grower = await got(c.POST("/v1/growers", { body: { name: "Served by TypeScript" } }));
const farm = await got(c.POST("/v1/farms", { body: { grower_id: grower.id, name: "Home farm" } }));
const field = await got(c.POST("/v1/fields", { body: { farm_id: farm.id, name: "North forty" } }));
const eight = { grower_id: grower.id, name: "The eight-row", makeup: job.makeup };
const planter = await got(c.POST("/v1/planters", { body: eight }));
const of = (id: string) => ({ path: { id } });
const as = (o: { id: string; version: number }) => ({ ...of(o.id), header: { "If-Match": `"${o.version}"` } });
const today = new Date().toISOString();
const bags = { calibrated_on: today.slice(0, 10), points: job.points };
await got(c.POST("/v1/planters/{id}/calibrations", { params: of(planter.id), body: bags }));
const seen = { ...job.conditions, observed_at: today };
await got(c.POST("/v1/fields/{id}/conditions", { params: of(field.id), body: seen }));
const wanted = { field_id: field.id, planter_id: planter.id, goals: job.goals };
const draft = await got(c.POST("/v1/recommendations", { body: wanted }));
const force: Quantity = draft.settings.down_force.per_row;
assert(force.unit === "[lbf_av]" && force.value > 0 && force.value < 1000);
const issued = await got(c.POST("/v1/recommendations/{id}/issue", { params: as(draft) }));
const sheet = await got(c.POST("/v1/recommendations/{id}/acknowledge", { params: as(issued) }));
assert.equal(sheet.status, "acknowledged");
const dig = { params: of(sheet.id), body: { ...job.dig, dug_at: new Date().toISOString() } };
const check = await got(c.POST("/v1/recommendations/{id}/dig-checks", dig));
const [finding] = check.findings;
assert(finding?.reading && check.adjustment_id);
const change = await got(c.GET("/v1/adjustments/{id}", { params: of(check.adjustment_id) }));
const yes = { params: as(change), body: { issue: true } };
const { next_recommendation_id: id } = await got(c.POST("/v1/adjustments/{id}/accept", yes));
assert(id);
const next = await got(c.GET("/v1/recommendations/{id}", { params: of(id) }));
const more: Quantity = next.settings.down_force.per_row;
assert(next.revision === sheet.revision + 1 && more.unit === force.unit && more.value > force.value);
console.log(`TypeScript: ${force.value} lbf, dug: ${finding.reading}; now ${more.value} lbf`);
