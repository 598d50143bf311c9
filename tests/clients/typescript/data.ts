// What the job sends, with its types; the values are those of ../job.json.

import type { components } from "./api.js";

type Schemas = components["schemas"];

type Job = {
  makeup: Schemas["Makeup"];
  points: Schemas["CalibrationPoint"][];
  conditions: Omit<Schemas["ConditionsIn"], "observed_at">;
  goals: Schemas["GoalsIn"];
  dig: Omit<Schemas["DigCheckIn"], "dug_at">;
};

export const job: Job =
/* DATA */
