-- Generated from the migrations. Do not edit.

CREATE TABLE "access_links" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "grower_id" uuid_text NOT NULL,
    "made_by" uuid_text NOT NULL,
    "token_hash" text NOT NULL,
    "note" text NULL,
    "single_use" boolean NOT NULL,
    "expires_at" timestamp_with_timezone_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "last_used_at" timestamp_with_timezone_text NULL,
    "revoked_at" timestamp_with_timezone_text NULL,
    CONSTRAINT "pk_access_links" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "made_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_access_links_grower_id" ON "access_links" ("practice_id", "grower_id");

CREATE INDEX "ix_access_links_made_by" ON "access_links" ("practice_id", "made_by");

CREATE UNIQUE INDEX "ux_access_links_token_hash" ON "access_links" ("token_hash");

CREATE TABLE "accounts" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "email" text NOT NULL,
    "display_name" text NOT NULL,
    "role" text NOT NULL CHECK ("role" IN ('lead', 'advisor', 'grower', 'records_system', 'read_only')),
    "grower_id" uuid_text NULL,
    "password_hash" text NOT NULL,
    "units" text NOT NULL CHECK ("units" IN ('us', 'si')),
    "created_at" timestamp_with_timezone_text NOT NULL,
    "disabled_at" timestamp_with_timezone_text NULL,
    "version" integer NOT NULL DEFAULT 1,
    CONSTRAINT "pk_accounts" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_accounts_grower_id" ON "accounts" ("practice_id", "grower_id");

CREATE UNIQUE INDEX "ux_accounts_email" ON "accounts" ("email");

CREATE TABLE "adjustments" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "dig_check_id" uuid_text NOT NULL,
    "recommendation_id" uuid_text NOT NULL,
    "status" text NOT NULL CHECK ("status" IN ('proposed', 'accepted', 'declined')),
    "proposal" jsonb_text NOT NULL,
    "decided_at" timestamp_with_timezone_text NULL,
    "decided_by" uuid_text NULL,
    "reason" text NULL,
    "next_recommendation_id" uuid_text NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "version" integer NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL DEFAULT '1970-01-01T00:00:00+00:00',
    CONSTRAINT "pk_adjustments" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "dig_check_id") REFERENCES "dig_checks" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "recommendation_id") REFERENCES "recommendations" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "decided_by") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "next_recommendation_id") REFERENCES "recommendations" ("practice_id", "id")
);

CREATE INDEX "ix_adjustments_decided_by" ON "adjustments" ("practice_id", "decided_by");

CREATE INDEX "ix_adjustments_dig_check_id" ON "adjustments" ("practice_id", "dig_check_id");

CREATE INDEX "ix_adjustments_next_recommendation_id" ON "adjustments" ("practice_id", "next_recommendation_id");

CREATE INDEX "ix_adjustments_recommendation_id" ON "adjustments" ("practice_id", "recommendation_id");

CREATE INDEX "ix_adjustments_season" ON "adjustments" ("practice_id", "dig_check_id", "status", "created_at", "decided_at");

CREATE INDEX "ix_adjustments_status_recommendation_id" ON "adjustments" ("practice_id", "status", "recommendation_id");

CREATE INDEX "ix_adjustments_updated_at_id" ON "adjustments" ("practice_id", "updated_at", "id");

CREATE TABLE "air_temperatures" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "farm_id" uuid_text NOT NULL,
    "day" date_text NOT NULL,
    "kind" text NOT NULL CHECK ("kind" IN ('measured', 'expected')),
    "station" text NOT NULL,
    "high_k" double NOT NULL,
    "low_k" double NOT NULL,
    "entered" jsonb_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_air_temperatures" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "farm_id") REFERENCES "farms" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_air_temperatures_created_by" ON "air_temperatures" ("practice_id", "created_by");

CREATE INDEX "ix_air_temperatures_updated_at_id" ON "air_temperatures" ("practice_id", "updated_at", "id");

CREATE UNIQUE INDEX "ux_air_temperatures_farm_id_day" ON "air_temperatures" ("practice_id", "farm_id", "day");

CREATE TABLE "attention_limits" (
    "practice_id" uuid_text NOT NULL PRIMARY KEY,
    "sheet_unseen_hours" integer NOT NULL,
    "dig_after_planting_hours" integer NOT NULL,
    "dig_after_seen_days" integer NOT NULL,
    "conditions_days" integer NOT NULL,
    "calibration_months" integer NOT NULL,
    "inspection_days" integer NOT NULL,
    "planting_begins" text NOT NULL,
    "version" integer NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id")
);

CREATE TABLE "attention_marks" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "entry_key" text NOT NULL,
    "grower_id" uuid_text NULL,
    "snoozed_until" date_text NULL,
    "snooze_reason" text NULL,
    "snoozed_at" timestamp_with_timezone_text NULL,
    "snoozed_by" uuid_text NULL,
    "assigned_to" uuid_text NULL,
    "assigned_at" timestamp_with_timezone_text NULL,
    "assigned_by" uuid_text NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_attention_marks" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "snoozed_by") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "assigned_to") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "assigned_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_attention_marks_assigned_by" ON "attention_marks" ("practice_id", "assigned_by");

CREATE INDEX "ix_attention_marks_assigned_to" ON "attention_marks" ("practice_id", "assigned_to");

CREATE INDEX "ix_attention_marks_grower_id" ON "attention_marks" ("practice_id", "grower_id");

CREATE INDEX "ix_attention_marks_snoozed_by" ON "attention_marks" ("practice_id", "snoozed_by");

CREATE UNIQUE INDEX "ux_attention_marks_entry_key" ON "attention_marks" ("practice_id", "entry_key");

CREATE TRIGGER audit_events_stay BEFORE DELETE ON audit_events WHEN NOT EXISTS (SELECT 1 FROM practice_removals WHERE practice_id = OLD.practice_id) BEGIN SELECT RAISE(ABORT, 'audit events are never deleted'); END;

CREATE TRIGGER audit_events_stay_as_they_are BEFORE UPDATE ON audit_events BEGIN SELECT RAISE(ABORT, 'audit events are never changed'); END;

CREATE TABLE "audit_events" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "at" timestamp_with_timezone_text NOT NULL,
    "account_id" uuid_text NOT NULL,
    "role" text NOT NULL CHECK ("role" IN ('lead', 'advisor', 'grower', 'records_system', 'read_only')),
    "client_id" uuid_text NULL,
    "request_id" text NOT NULL,
    "operation" text NOT NULL,
    "object_kind" text NOT NULL,
    "object_id" text NOT NULL,
    "grower_id" uuid_text NULL,
    "changed" jsonb_text NULL,
    CONSTRAINT "pk_audit_events" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "account_id") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_audit_events_account_id" ON "audit_events" ("practice_id", "account_id");

CREATE INDEX "ix_audit_events_grower_id" ON "audit_events" ("practice_id", "grower_id");

CREATE INDEX "ix_audit_events_object_kind_object_id" ON "audit_events" ("practice_id", "object_kind", "object_id");

CREATE TABLE "calendar_entries" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "feed_id" uuid_text NOT NULL,
    "entry_key" text NOT NULL,
    "due_on" date_text NOT NULL,
    "sequence" integer NOT NULL,
    "fingerprint" text NOT NULL,
    "changed_at" timestamp_with_timezone_text NOT NULL,
    "dropped_at" timestamp_with_timezone_text NULL,
    CONSTRAINT "pk_calendar_entries" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "feed_id") REFERENCES "calendar_feeds" ("practice_id", "id")
);

CREATE UNIQUE INDEX "ux_calendar_entries_feed_id_entry_key" ON "calendar_entries" ("practice_id", "feed_id", "entry_key");

CREATE TABLE "calendar_feeds" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "account_id" uuid_text NOT NULL,
    "grower_id" uuid_text NULL,
    "secret_hash" text NOT NULL,
    "note" text NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "revoked_at" timestamp_with_timezone_text NULL,
    CONSTRAINT "pk_calendar_feeds" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "account_id") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_calendar_feeds_account_id" ON "calendar_feeds" ("practice_id", "account_id");

CREATE INDEX "ix_calendar_feeds_grower_id" ON "calendar_feeds" ("practice_id", "grower_id");

CREATE UNIQUE INDEX "ux_calendar_feeds_secret_hash" ON "calendar_feeds" ("secret_hash");

CREATE TABLE "calibrations" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "calibrated_on" date_text NOT NULL,
    "points" jsonb_text NOT NULL,
    "notes" text NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    CONSTRAINT "pk_calibrations" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_calibrations_created_by" ON "calibrations" ("practice_id", "created_by");

CREATE INDEX "ix_calibrations_planter_id_calibrated_on" ON "calibrations" ("practice_id", "planter_id", "calibrated_on");

CREATE TABLE "change_counters" (
    "practice_id" uuid_text NOT NULL PRIMARY KEY,
    "position" integer NOT NULL,
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id")
);

CREATE TABLE "changes" (
    "practice_id" uuid_text NOT NULL,
    "position" integer NOT NULL,
    "at" timestamp_with_timezone_text NOT NULL,
    "type" text NOT NULL,
    "object_kind" text NOT NULL,
    "object_id" text NOT NULL,
    "grower_id" uuid_text NULL,
    "version" integer NULL,
    CONSTRAINT "pk_changes" PRIMARY KEY ("practice_id", "position"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id")
);

CREATE INDEX "ix_changes_grower_id_position" ON "changes" ("practice_id", "grower_id", "position");

CREATE TABLE "client_secrets" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "client_id" uuid_text NOT NULL,
    "secret_hash" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "last_used_at" timestamp_with_timezone_text NULL,
    CONSTRAINT "pk_client_secrets" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "client_id") REFERENCES "machine_clients" ("practice_id", "id")
);

CREATE INDEX "ix_client_secrets_client_id" ON "client_secrets" ("practice_id", "client_id");

CREATE TABLE "coefficient_sets" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "engine_version" text NOT NULL,
    "figures" jsonb_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_coefficient_sets" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id")
);

CREATE TABLE "conditions_reports" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "field_id" uuid_text NOT NULL,
    "observed_at" timestamp_with_timezone_text NOT NULL,
    "observations" jsonb_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    CONSTRAINT "pk_conditions_reports" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "field_id") REFERENCES "fields" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_conditions_reports_created_by" ON "conditions_reports" ("practice_id", "created_by");

CREATE INDEX "ix_conditions_reports_field_id_observed_at" ON "conditions_reports" ("practice_id", "field_id", "observed_at");

CREATE TABLE "deliveries" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "webhook_id" uuid_text NOT NULL,
    "position" integer NULL,
    "status" text NOT NULL CHECK ("status" IN ('waiting', 'delivered', 'dead')),
    "attempts" integer NOT NULL,
    "due_at" timestamp_with_timezone_text NOT NULL,
    "last_status" integer NULL,
    "last_error" text NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "finished_at" timestamp_with_timezone_text NULL,
    CONSTRAINT "pk_deliveries" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "webhook_id") REFERENCES "webhooks" ("practice_id", "id")
);

CREATE INDEX "ix_deliveries_finished" ON "deliveries" ("status", "finished_at");

CREATE INDEX "ix_deliveries_webhook_id_status_due_at_id" ON "deliveries" ("practice_id", "webhook_id", "status", "due_at", "id");

CREATE INDEX "ix_deliveries_webhook_id_status_id" ON "deliveries" ("practice_id", "webhook_id", "status", "id");

CREATE INDEX "ix_deliveries_webhook_id_status_position" ON "deliveries" ("practice_id", "webhook_id", "status", "position");

CREATE UNIQUE INDEX "ux_deliveries_webhook_id_position" ON "deliveries" ("practice_id", "webhook_id", "position");

CREATE TABLE "dig_checks" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "recommendation_id" uuid_text NOT NULL,
    "dug_at" timestamp_with_timezone_text NOT NULL,
    "observation" jsonb_text NOT NULL,
    "result" jsonb_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    "fingerprint" text NULL,
    "notices" jsonb_text NULL,
    "depth_side" text NULL,
    "asks" text NULL,
    CONSTRAINT "pk_dig_checks" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "recommendation_id") REFERENCES "recommendations" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_dig_checks_created_by" ON "dig_checks" ("practice_id", "created_by");

CREATE INDEX "ix_dig_checks_outcome" ON "dig_checks" ("practice_id", "recommendation_id", "dug_at", "depth_side", "asks", "id");

CREATE INDEX "ix_dig_checks_recommendation_id_dug_at" ON "dig_checks" ("practice_id", "recommendation_id", "dug_at");

CREATE UNIQUE INDEX "ux_dig_checks_fingerprint" ON "dig_checks" ("practice_id", "fingerprint");

CREATE TABLE "dig_lessons" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "seq" integer NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "field_id" uuid_text NOT NULL,
    "season" integer NOT NULL,
    "soil" text NOT NULL CHECK ("soil" IN ('unknown', 'coarse', 'medium', 'fine')),
    "cover" text NOT NULL CHECK ("cover" IN ('no_cover', 'living', 'dead')),
    "dug_at" timestamp_with_timezone_text NOT NULL,
    "event" jsonb_text NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_dig_lessons" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "id") REFERENCES "dig_checks" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "field_id") REFERENCES "fields" ("practice_id", "id")
);

CREATE INDEX "ix_dig_lessons_field_id" ON "dig_lessons" ("practice_id", "field_id");

CREATE INDEX "ix_dig_lessons_planter_id" ON "dig_lessons" ("practice_id", "planter_id");

CREATE UNIQUE INDEX "ux_dig_lessons_seq" ON "dig_lessons" ("practice_id", "seq");

CREATE TABLE "erased_records" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "grower_id" uuid_text NOT NULL,
    "mark" text NOT NULL,
    "erased_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_erased_records" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_erased_records_grower_id" ON "erased_records" ("practice_id", "grower_id");

CREATE UNIQUE INDEX "ux_erased_records_mark" ON "erased_records" ("practice_id", "mark");

CREATE TABLE "external_ids" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "system" text NOT NULL,
    "kind" text NOT NULL CHECK ("kind" IN ('grower', 'farm', 'field', 'planter', 'yield')),
    "their_id" text NOT NULL,
    "object_id" uuid_text NOT NULL,
    "grower_id" uuid_text NULL,
    "taken" jsonb_text NOT NULL,
    "taken_hash" text NOT NULL,
    "their_version" text NULL,
    "their_updated_at" timestamp_with_timezone_text NULL,
    "first_seen_at" timestamp_with_timezone_text NOT NULL,
    "last_seen_at" timestamp_with_timezone_text NOT NULL,
    "gone_since" timestamp_with_timezone_text NULL,
    "version" integer NOT NULL,
    CONSTRAINT "pk_external_ids" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_external_ids_gone" ON "external_ids" ("practice_id", "grower_id", "gone_since", "id", "kind", "system", "their_id", "object_id") WHERE "gone_since" IS NOT NULL;

CREATE INDEX "ix_external_ids_grower_id" ON "external_ids" ("practice_id", "grower_id");

CREATE INDEX "ix_external_ids_system_id" ON "external_ids" ("practice_id", "system", "id");

CREATE UNIQUE INDEX "ux_external_ids_object_id_system" ON "external_ids" ("practice_id", "object_id", "system");

CREATE UNIQUE INDEX "ux_external_ids_system_kind_their_id" ON "external_ids" ("practice_id", "system", "kind", "their_id");

CREATE TABLE "farms" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "grower_id" uuid_text NOT NULL,
    "name" text NOT NULL,
    "version" integer NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_farms" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_farms_updated_at_id" ON "farms" ("practice_id", "updated_at", "id");

CREATE UNIQUE INDEX "ux_farms_grower_id_name" ON "farms" ("practice_id", "grower_id", "name");

CREATE TABLE "fields" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "farm_id" uuid_text NOT NULL,
    "name" text NOT NULL,
    "boundary" jsonb_text NULL,
    "area_m2" double NULL,
    "entered_area" jsonb_text NULL,
    "texture_class" text NULL,
    "notes" text NULL,
    "version" integer NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_fields" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "farm_id") REFERENCES "farms" ("practice_id", "id")
);

CREATE INDEX "ix_fields_updated_at_id" ON "fields" ("practice_id", "updated_at", "id");

CREATE UNIQUE INDEX "ux_fields_farm_id_name" ON "fields" ("practice_id", "farm_id", "name");

CREATE TABLE "grower_erasures" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "grower_id" uuid_text NOT NULL,
    "erased_at" timestamp_with_timezone_text NOT NULL,
    "erased_by" uuid_text NOT NULL,
    "reason" text NOT NULL,
    "report" jsonb_text NOT NULL,
    CONSTRAINT "pk_grower_erasures" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "erased_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_grower_erasures_erased_by" ON "grower_erasures" ("practice_id", "erased_by");

CREATE INDEX "ix_grower_erasures_grower_id" ON "grower_erasures" ("practice_id", "grower_id");

CREATE TABLE "growers" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "name" text NOT NULL,
    "advisor_id" uuid_text NULL,
    "phone" text NULL,
    "email" text NULL,
    "notes" text NULL,
    "version" integer NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_growers" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "advisor_id") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_growers_advisor_id" ON "growers" ("practice_id", "advisor_id");

CREATE INDEX "ix_growers_updated_at_id" ON "growers" ("practice_id", "updated_at", "id");

CREATE UNIQUE INDEX "ux_growers_name" ON "growers" ("practice_id", "name");

CREATE TABLE "idempotency_keys" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "fingerprint" text NULL,
    "status" integer NOT NULL,
    "etag" text NULL,
    "location" text NULL,
    "body" text NULL,
    "expires_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_idempotency_keys" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id")
);

CREATE INDEX "ix_idempotency_keys_expires_at" ON "idempotency_keys" ("expires_at");

CREATE TABLE "inspections" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "inspected_on" date_text NOT NULL,
    "entered" jsonb_text NOT NULL,
    "fingerprint" text NULL,
    "replaces_id" uuid_text NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    CONSTRAINT "pk_inspections" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "replaces_id") REFERENCES "inspections" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_inspections_created_by" ON "inspections" ("practice_id", "created_by");

CREATE INDEX "ix_inspections_planter_id_inspected_on" ON "inspections" ("practice_id", "planter_id", "inspected_on");

CREATE UNIQUE INDEX "ux_inspections_planter_id_fingerprint" ON "inspections" ("practice_id", "planter_id", "fingerprint");

CREATE UNIQUE INDEX "ux_inspections_replaces_id" ON "inspections" ("practice_id", "replaces_id");

CREATE TABLE "jobs" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "kind" text NOT NULL CHECK ("kind" IN ('digest', 'sheet_ready', 'password_link', 'access_link')),
    "payload" jsonb_text NOT NULL,
    "grower_id" uuid_text NULL,
    "once_key" text NULL,
    "status" text NOT NULL CHECK ("status" IN ('waiting', 'done', 'dead')),
    "run_at" timestamp_with_timezone_text NOT NULL,
    "attempts" integer NOT NULL,
    "lease" uuid_text NULL,
    "last_error" text NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "finished_at" timestamp_with_timezone_text NULL,
    CONSTRAINT "pk_jobs" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_jobs_due" ON "jobs" ("status", "run_at", "id");

CREATE INDEX "ix_jobs_grower_id" ON "jobs" ("practice_id", "grower_id");

CREATE INDEX "ix_jobs_status_id" ON "jobs" ("practice_id", "status", "id");

CREATE UNIQUE INDEX "ux_jobs_once_key" ON "jobs" ("practice_id", "once_key");

CREATE TABLE "lesson_counters" (
    "practice_id" uuid_text NOT NULL PRIMARY KEY,
    "seq" integer NOT NULL,
    "generation" integer NOT NULL,
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id")
);

CREATE TABLE "machine_clients" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "name" text NOT NULL,
    "account_id" uuid_text NOT NULL,
    "scopes" text NOT NULL,
    "version" integer NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_machine_clients" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "account_id") REFERENCES "accounts" ("practice_id", "id")
);

CREATE UNIQUE INDEX "ux_machine_clients_account_id" ON "machine_clients" ("practice_id", "account_id");

CREATE UNIQUE INDEX "ux_machine_clients_id" ON "machine_clients" ("id");

CREATE UNIQUE INDEX "ux_machine_clients_name" ON "machine_clients" ("practice_id", "name");

CREATE TABLE "mail_wishes" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "account_id" uuid_text NULL,
    "grower_id" uuid_text NULL,
    "digest" text NOT NULL CHECK ("digest" IN ('none', 'daily', 'weekly')),
    "digest_hour" integer NOT NULL,
    "digest_weekday" integer NOT NULL,
    "sheets" boolean NOT NULL,
    "next_digest_at" timestamp_with_timezone_text NULL,
    "stop_key" text NOT NULL,
    "updated_by" uuid_text NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_mail_wishes" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "account_id") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "updated_by") REFERENCES "accounts" ("practice_id", "id"),
    CHECK (("account_id" IS NULL AND "grower_id" IS NOT NULL) OR ("account_id" IS NOT NULL AND "grower_id" IS NULL))
);

CREATE INDEX "ix_mail_wishes_next_digest_at" ON "mail_wishes" ("next_digest_at");

CREATE INDEX "ix_mail_wishes_updated_by" ON "mail_wishes" ("practice_id", "updated_by");

CREATE UNIQUE INDEX "ux_mail_wishes_account_id" ON "mail_wishes" ("practice_id", "account_id");

CREATE UNIQUE INDEX "ux_mail_wishes_grower_id" ON "mail_wishes" ("practice_id", "grower_id");

CREATE UNIQUE INDEX "ux_mail_wishes_stop_key" ON "mail_wishes" ("stop_key");

CREATE TABLE "open_replacements" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "inspection_id" uuid_text NOT NULL,
    "item" text NOT NULL,
    "rows" jsonb_text NOT NULL,
    "since" date_text NOT NULL,
    CONSTRAINT "pk_open_replacements" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "inspection_id") REFERENCES "inspections" ("practice_id", "id")
);

CREATE INDEX "ix_open_replacements_inspection_id" ON "open_replacements" ("practice_id", "inspection_id");

CREATE INDEX "ix_open_replacements_planter_id_item" ON "open_replacements" ("practice_id", "planter_id", "item");

CREATE TABLE "outside_identities" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "issuer" text NOT NULL,
    "subject" text NOT NULL,
    "account_id" uuid_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_outside_identities" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "account_id") REFERENCES "accounts" ("practice_id", "id")
);

CREATE UNIQUE INDEX "ux_outside_identities_account_id_issuer" ON "outside_identities" ("practice_id", "account_id", "issuer");

CREATE UNIQUE INDEX "ux_outside_identities_issuer_subject" ON "outside_identities" ("practice_id", "issuer", "subject");

CREATE TABLE "own_coefficients" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "name" text NOT NULL,
    "version" integer NOT NULL,
    "value" double NULL,
    "low" double NULL,
    "high" double NULL,
    "source" text NULL,
    "note" text NULL,
    "set_at" timestamp_with_timezone_text NOT NULL,
    "set_by" uuid_text NOT NULL,
    CONSTRAINT "pk_own_coefficients" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "set_by") REFERENCES "accounts" ("practice_id", "id"),
    CHECK (("value" IS NOT NULL AND "low" IS NOT NULL AND "high" IS NOT NULL AND "source" IS NOT NULL) OR ("value" IS NULL AND "low" IS NULL AND "high" IS NULL AND "source" IS NULL))
);

CREATE INDEX "ix_own_coefficients_set_by" ON "own_coefficients" ("practice_id", "set_by");

CREATE UNIQUE INDEX "ux_own_coefficients_name_version" ON "own_coefficients" ("practice_id", "name", "version");

CREATE TABLE "password_links" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "account_id" uuid_text NOT NULL,
    "token_hash" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "expires_at" timestamp_with_timezone_text NOT NULL,
    "spent_at" timestamp_with_timezone_text NULL,
    CONSTRAINT "pk_password_links" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "account_id") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_password_links_account_id" ON "password_links" ("practice_id", "account_id");

CREATE UNIQUE INDEX "ux_password_links_token_hash" ON "password_links" ("token_hash");

CREATE TABLE "planters" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "grower_id" uuid_text NOT NULL,
    "name" text NOT NULL,
    "makeup" jsonb_text NOT NULL,
    "version" integer NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_planters" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_planters_updated_at_id" ON "planters" ("practice_id", "updated_at", "id");

CREATE UNIQUE INDEX "ux_planters_grower_id_name" ON "planters" ("practice_id", "grower_id", "name");

CREATE TABLE "plantings" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "field_id" uuid_text NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "recommendation_id" uuid_text NULL,
    "planted_on" date_text NOT NULL,
    "crop" text NOT NULL CHECK ("crop" IN ('corn', 'soybean')),
    "area_m2" double NULL,
    "seeds_per_m2" double NULL,
    "depth_m" double NULL,
    "hours" double NULL,
    "entered" jsonb_text NOT NULL,
    "notices" jsonb_text NOT NULL,
    "need" jsonb_text NOT NULL,
    "note" text NULL,
    "fingerprint" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    "version" integer NOT NULL,
    "cost_amount" double NULL,
    "cost_currency" text NULL,
    CONSTRAINT "pk_plantings" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "field_id") REFERENCES "fields" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "recommendation_id") REFERENCES "recommendations" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_plantings_created_by" ON "plantings" ("practice_id", "created_by");

CREATE INDEX "ix_plantings_field_id_planted_on" ON "plantings" ("practice_id", "field_id", "planted_on");

CREATE INDEX "ix_plantings_planted_on" ON "plantings" ("practice_id", "planted_on");

CREATE INDEX "ix_plantings_planter_id_planted_on" ON "plantings" ("practice_id", "planter_id", "planted_on");

CREATE INDEX "ix_plantings_recommendation_id" ON "plantings" ("practice_id", "recommendation_id");

CREATE INDEX "ix_plantings_updated_at_id" ON "plantings" ("practice_id", "updated_at", "id");

CREATE UNIQUE INDEX "ux_plantings_fingerprint" ON "plantings" ("practice_id", "fingerprint");

CREATE TABLE "practice_removals" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "asked_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_practice_removals" PRIMARY KEY ("practice_id", "id")
);

CREATE TABLE "practices" (
    "id" uuid_text NOT NULL PRIMARY KEY,
    "name" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL ,
    "advisors_see" text NOT NULL DEFAULT 'all' CHECK ("advisors_see" IN ('all', 'assigned')),
    "version" integer NOT NULL DEFAULT 1,
    "updated_at" timestamp_with_timezone_text NOT NULL DEFAULT '1970-01-01T00:00:00+00:00',
    "time_zone" text NOT NULL DEFAULT 'UTC',
    "season_starts" text NOT NULL DEFAULT '01-01',
    "erasure_salt" text NULL
);

CREATE TABLE "recommendations" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "field_id" uuid_text NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "conditions_id" uuid_text NOT NULL,
    "calibration_id" uuid_text NULL,
    "series_id" uuid_text NOT NULL,
    "revision" integer NOT NULL,
    "replaces_id" uuid_text NULL,
    "status" text NOT NULL CHECK ("status" IN ('draft', 'issued', 'acknowledged', 'superseded')),
    "goals" jsonb_text NOT NULL,
    "inputs" jsonb_text NOT NULL,
    "result" jsonb_text NOT NULL,
    "engine_version" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    "issued_at" timestamp_with_timezone_text NULL,
    "issued_by" uuid_text NULL,
    "acknowledged_at" timestamp_with_timezone_text NULL,
    "acknowledged_by" uuid_text NULL,
    "version" integer NOT NULL,
    "coefficient_set_id" uuid_text NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL DEFAULT '1970-01-01T00:00:00+00:00',
    CONSTRAINT "pk_recommendations" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "field_id") REFERENCES "fields" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "conditions_id") REFERENCES "conditions_reports" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "calibration_id") REFERENCES "calibrations" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "replaces_id") REFERENCES "recommendations" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "issued_by") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "acknowledged_by") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "coefficient_set_id") REFERENCES "coefficient_sets" ("practice_id", "id")
);

CREATE INDEX "ix_recommendations_acknowledged_by" ON "recommendations" ("practice_id", "acknowledged_by");

CREATE INDEX "ix_recommendations_calibration_id" ON "recommendations" ("practice_id", "calibration_id");

CREATE INDEX "ix_recommendations_coefficient_set_id" ON "recommendations" ("practice_id", "coefficient_set_id");

CREATE INDEX "ix_recommendations_conditions_id" ON "recommendations" ("practice_id", "conditions_id");

CREATE INDEX "ix_recommendations_counting" ON "recommendations" ("practice_id", "status", "issued_at", "series_id", "id", "field_id", "planter_id", "conditions_id", "calibration_id", "acknowledged_at");

CREATE INDEX "ix_recommendations_created_by" ON "recommendations" ("practice_id", "created_by");

CREATE INDEX "ix_recommendations_field_id" ON "recommendations" ("practice_id", "field_id");

CREATE INDEX "ix_recommendations_issued_by" ON "recommendations" ("practice_id", "issued_by");

CREATE INDEX "ix_recommendations_planter_id" ON "recommendations" ("practice_id", "planter_id");

CREATE INDEX "ix_recommendations_replaces_id" ON "recommendations" ("practice_id", "replaces_id");

CREATE INDEX "ix_recommendations_season" ON "recommendations" ("practice_id", "planter_id", "field_id", "series_id", "issued_at", "acknowledged_at", "id");

CREATE INDEX "ix_recommendations_updated_at_id" ON "recommendations" ("practice_id", "updated_at", "id");

CREATE UNIQUE INDEX "ux_recommendations_series_id_revision" ON "recommendations" ("practice_id", "series_id", "revision");

CREATE TABLE "record_conflicts" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "external_id" uuid_text NOT NULL,
    "grower_id" uuid_text NULL,
    "member" text NOT NULL,
    "base" jsonb_text NULL,
    "theirs" jsonb_text NOT NULL,
    "version" integer NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_record_conflicts" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "external_id") REFERENCES "external_ids" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_record_conflicts_grower_id" ON "record_conflicts" ("practice_id", "grower_id");

CREATE UNIQUE INDEX "ux_record_conflicts_external_id_member" ON "record_conflicts" ("practice_id", "external_id", "member");

CREATE TABLE "record_matches" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "system" text NOT NULL,
    "kind" text NOT NULL CHECK ("kind" IN ('grower', 'farm', 'field', 'planter', 'yield')),
    "their_id" text NOT NULL,
    "their_version" text NULL,
    "their_updated_at" timestamp_with_timezone_text NULL,
    "waits_for" text NOT NULL CHECK ("waits_for" IN ('decision', 'makeup', 'parent')),
    "grower_id" uuid_text NULL,
    "record" jsonb_text NOT NULL,
    "candidates" jsonb_text NOT NULL,
    "version" integer NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    "erased_at" timestamp_with_timezone_text NULL,
    CONSTRAINT "pk_record_matches" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_record_matches_grower_id" ON "record_matches" ("practice_id", "grower_id");

CREATE INDEX "ix_record_matches_waiting" ON "record_matches" ("practice_id", "waits_for", "grower_id", "kind", "created_at", "updated_at", "id", "erased_at");

CREATE INDEX "ix_record_matches_waits_for_id" ON "record_matches" ("practice_id", "waits_for", "id");

CREATE UNIQUE INDEX "ux_record_matches_system_kind_their_id" ON "record_matches" ("practice_id", "system", "kind", "their_id");

CREATE TABLE "records_links" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "name" text NOT NULL,
    "system" text NOT NULL,
    "profile" jsonb_text NOT NULL,
    "sealed_secret" text NULL,
    "remembered" jsonb_text NULL,
    "run_every_hours" integer NULL,
    "next_run_at" timestamp_with_timezone_text NULL,
    "version" integer NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_records_links" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_records_links_created_by" ON "records_links" ("practice_id", "created_by");

CREATE INDEX "ix_records_links_next_run_at" ON "records_links" ("next_run_at");

CREATE UNIQUE INDEX "ux_records_links_name" ON "records_links" ("practice_id", "name");

CREATE TABLE "records_runs" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "link_id" uuid_text NOT NULL,
    "mode" text NOT NULL CHECK ("mode" IN ('preview', 'apply')),
    "everything" boolean NOT NULL,
    "status" text NOT NULL CHECK ("status" IN ('waiting', 'running', 'done', 'failed')),
    "asked_by" uuid_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "started_at" timestamp_with_timezone_text NULL,
    "finished_at" timestamp_with_timezone_text NULL,
    "due_at" timestamp_with_timezone_text NOT NULL,
    "attempts" integer NOT NULL,
    "lease" uuid_text NULL,
    "pages" integer NOT NULL,
    "records" integer NOT NULL,
    "counts" jsonb_text NULL,
    "report" jsonb_text NULL,
    CONSTRAINT "pk_records_runs" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "link_id") REFERENCES "records_links" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "asked_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_records_runs_asked_by" ON "records_runs" ("practice_id", "asked_by");

CREATE INDEX "ix_records_runs_due" ON "records_runs" ("due_at") WHERE "finished_at" IS NULL;

CREATE INDEX "ix_records_runs_link_id_id" ON "records_runs" ("practice_id", "link_id", "id");

CREATE INDEX "ix_records_runs_link_id_status_id" ON "records_runs" ("practice_id", "link_id", "status", "id");

CREATE UNIQUE INDEX "ux_records_runs_unfinished" ON "records_runs" ("practice_id", "link_id") WHERE "finished_at" IS NULL;

CREATE TABLE "refresh_tokens" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "session_id" uuid_text NOT NULL,
    "token_hash" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "used_at" timestamp_with_timezone_text NULL,
    "salt" text NULL,
    CONSTRAINT "pk_refresh_tokens" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "session_id") REFERENCES "sessions" ("practice_id", "id")
);

CREATE INDEX "ix_refresh_tokens_session_id" ON "refresh_tokens" ("practice_id", "session_id");

CREATE UNIQUE INDEX "ux_refresh_tokens_token_hash" ON "refresh_tokens" ("token_hash");

CREATE TABLE "repairs" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "item" text NOT NULL,
    "rows" jsonb_text NOT NULL,
    "repaired_on" date_text NOT NULL,
    "new_part" boolean NOT NULL,
    "notes" text NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    "cost_amount" double NULL,
    "cost_currency" text NULL,
    CONSTRAINT "pk_repairs" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_repairs_created_by" ON "repairs" ("practice_id", "created_by");

CREATE INDEX "ix_repairs_planter_id_repaired_on" ON "repairs" ("practice_id", "planter_id", "repaired_on");

CREATE TABLE "season_digs" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "series_id" uuid_text NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "field_id" uuid_text NOT NULL,
    "dug_at" timestamp_with_timezone_text NOT NULL,
    "soil" text NOT NULL CHECK ("soil" IN ('unknown', 'coarse', 'medium', 'fine')),
    "cover" text NOT NULL CHECK ("cover" IN ('no_cover', 'living', 'dead')),
    "once" boolean NOT NULL,
    "tells" boolean NOT NULL,
    "depth_inside" boolean NULL,
    "load_inside" boolean NULL,
    "off_um" integer NULL,
    "tolerance_um" integer NOT NULL,
    "speed_mm_s" integer NOT NULL,
    "load_n" integer NULL,
    "depths" text NOT NULL,
    "seeds_within" integer NOT NULL,
    "seeds" integer NOT NULL,
    "cause" text NULL,
    "iron" text NOT NULL,
    CONSTRAINT "pk_season_digs" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "id") REFERENCES "dig_checks" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "field_id") REFERENCES "fields" ("practice_id", "id")
);

CREATE INDEX "ix_season_digs_field_id" ON "season_digs" ("practice_id", "field_id");

CREATE INDEX "ix_season_digs_planter_id_field_id" ON "season_digs" ("practice_id", "planter_id", "field_id");

CREATE TABLE "season_fields" (
    "practice_id" uuid_text NOT NULL,
    "season" integer NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "field_id" uuid_text NOT NULL,
    "grower_id" uuid_text NOT NULL,
    "soil" text NOT NULL CHECK ("soil" IN ('unknown', 'coarse', 'medium', 'fine')),
    "cover" text NOT NULL CHECK ("cover" IN ('no_cover', 'living', 'dead')),
    "look" text NOT NULL,
    "sums" text NOT NULL,
    CONSTRAINT "pk_season_fields" PRIMARY KEY ("practice_id", "season", "planter_id", "field_id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "field_id") REFERENCES "fields" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_season_fields_field_id" ON "season_fields" ("practice_id", "field_id");

CREATE INDEX "ix_season_fields_grower_id" ON "season_fields" ("practice_id", "grower_id");

CREATE INDEX "ix_season_fields_planter_id" ON "season_fields" ("practice_id", "planter_id");

CREATE TABLE "season_planters" (
    "practice_id" uuid_text NOT NULL,
    "season" integer NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "grower_id" uuid_text NOT NULL,
    "sums" text NOT NULL,
    CONSTRAINT "pk_season_planters" PRIMARY KEY ("practice_id", "season", "planter_id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "grower_id") REFERENCES "growers" ("practice_id", "id")
);

CREATE INDEX "ix_season_planters_grower_id" ON "season_planters" ("practice_id", "grower_id");

CREATE INDEX "ix_season_planters_planter_id" ON "season_planters" ("practice_id", "planter_id");

CREATE TABLE "sessions" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "account_id" uuid_text NOT NULL,
    "signed_in_by" text NOT NULL CHECK ("signed_in_by" IN ('password', 'access_link', 'outside')),
    "access_link_id" uuid_text NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "refreshed_at" timestamp_with_timezone_text NOT NULL,
    "idle_expires_at" timestamp_with_timezone_text NOT NULL,
    "expires_at" timestamp_with_timezone_text NOT NULL,
    "ended_at" timestamp_with_timezone_text NULL,
    "ended_because" text CHECK ("ended_because" IN ('signed_out', 'token_reused', 'password_changed', 'account_disabled', 'link_revoked')),
    CONSTRAINT "pk_sessions" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "account_id") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_sessions_access_link_id" ON "sessions" ("practice_id", "access_link_id");

CREATE INDEX "ix_sessions_account_id" ON "sessions" ("practice_id", "account_id");

CREATE TABLE "sheet_links" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "recommendation_id" uuid_text NOT NULL,
    "secret_hash" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "expires_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_sheet_links" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "recommendation_id") REFERENCES "recommendations" ("practice_id", "id")
);

CREATE INDEX "ix_sheet_links_recommendation_id" ON "sheet_links" ("practice_id", "recommendation_id");

CREATE UNIQUE INDEX "ux_sheet_links_secret_hash" ON "sheet_links" ("secret_hash");

CREATE TABLE "signing_keys" (
    "kid" text NOT NULL PRIMARY KEY,
    "algorithm" text NOT NULL,
    "private_pem" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "retired_at" timestamp_with_timezone_text NULL ,
    "signs_from" timestamp_with_timezone_text NULL,
    "checks_until" timestamp_with_timezone_text NULL
);

CREATE TABLE "stand_counts" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "field_id" uuid_text NOT NULL,
    "planting_id" uuid_text NOT NULL,
    "counted_on" date_text NOT NULL,
    "observation" jsonb_text NOT NULL,
    "result" jsonb_text NOT NULL,
    "fingerprint" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    CONSTRAINT "pk_stand_counts" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "field_id") REFERENCES "fields" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "planting_id") REFERENCES "plantings" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_stand_counts_created_by" ON "stand_counts" ("practice_id", "created_by");

CREATE INDEX "ix_stand_counts_field_id_counted_on" ON "stand_counts" ("practice_id", "field_id", "counted_on");

CREATE INDEX "ix_stand_counts_planting_id_counted_on" ON "stand_counts" ("practice_id", "planting_id", "counted_on");

CREATE UNIQUE INDEX "ux_stand_counts_fingerprint" ON "stand_counts" ("practice_id", "fingerprint");

CREATE TABLE "trial_entries" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "trial_id" uuid_text NOT NULL,
    "plot" integer NOT NULL,
    "kind" text NOT NULL CHECK ("kind" IN ('values', 'planted', 'lost')),
    "response" text NOT NULL,
    "revision" integer NOT NULL,
    "content" jsonb_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    CONSTRAINT "pk_trial_entries" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "trial_id") REFERENCES "trials" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_trial_entries_created_by" ON "trial_entries" ("practice_id", "created_by");

CREATE UNIQUE INDEX "ux_trial_entries_trial_id_plot_kind_response_revision" ON "trial_entries" ("practice_id", "trial_id", "plot", "kind", "response", "revision");

CREATE TABLE "trials" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "field_id" uuid_text NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "name" text NOT NULL,
    "status" text NOT NULL CHECK ("status" IN ('draft', 'running', 'closed')),
    "design" jsonb_text NOT NULL,
    "layout" jsonb_text NOT NULL,
    "replications" jsonb_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    "started_at" timestamp_with_timezone_text NULL,
    "started_by" uuid_text NULL,
    "closed_at" timestamp_with_timezone_text NULL,
    "closed_by" uuid_text NULL,
    "version" integer NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_trials" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "field_id") REFERENCES "fields" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "started_by") REFERENCES "accounts" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "closed_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_trials_closed_by" ON "trials" ("practice_id", "closed_by");

CREATE INDEX "ix_trials_created_by" ON "trials" ("practice_id", "created_by");

CREATE INDEX "ix_trials_field_id" ON "trials" ("practice_id", "field_id");

CREATE INDEX "ix_trials_planter_id" ON "trials" ("practice_id", "planter_id");

CREATE INDEX "ix_trials_started_by" ON "trials" ("practice_id", "started_by");

CREATE INDEX "ix_trials_updated_at_id" ON "trials" ("practice_id", "updated_at", "id");

CREATE TABLE "wear_limits" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "planter_id" uuid_text NOT NULL,
    "version" integer NOT NULL,
    "entered" jsonb_text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    CONSTRAINT "pk_wear_limits" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "planter_id") REFERENCES "planters" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_wear_limits_created_by" ON "wear_limits" ("practice_id", "created_by");

CREATE UNIQUE INDEX "ux_wear_limits_planter_id_version" ON "wear_limits" ("practice_id", "planter_id", "version");

CREATE TABLE "webhooks" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "made_by" uuid_text NOT NULL,
    "name" text NOT NULL,
    "url" text NOT NULL,
    "types" text NOT NULL,
    "form" text NOT NULL CHECK ("form" IN ('plain', 'cloud_event')),
    "ordered" boolean NOT NULL,
    "status" text NOT NULL CHECK ("status" IN ('active', 'paused', 'stopped')),
    "stopped_because" text NULL,
    "secret" text NOT NULL,
    "secret_before" text NULL,
    "secret_before_until" timestamp_with_timezone_text NULL,
    "read_to" integer NOT NULL,
    "due_at" timestamp_with_timezone_text NULL,
    "held_until" timestamp_with_timezone_text NULL,
    "failures" integer NOT NULL,
    "failing_since" timestamp_with_timezone_text NULL,
    "lease" uuid_text NULL,
    "leased_until" timestamp_with_timezone_text NULL,
    "version" integer NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    CONSTRAINT "pk_webhooks" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "made_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_webhooks_due" ON "webhooks" ("status");

CREATE INDEX "ix_webhooks_made_by" ON "webhooks" ("practice_id", "made_by");

CREATE TABLE "yields" (
    "practice_id" uuid_text NOT NULL,
    "id" uuid_text NOT NULL,
    "field_id" uuid_text NOT NULL,
    "harvested_on" date_text NOT NULL,
    "crop" text NOT NULL CHECK ("crop" IN ('corn', 'soybean')),
    "dry_kg_m2" double NOT NULL,
    "area_m2" double NULL,
    "entered" jsonb_text NOT NULL,
    "note" text NULL,
    "fingerprint" text NOT NULL,
    "created_at" timestamp_with_timezone_text NOT NULL,
    "created_by" uuid_text NOT NULL,
    "updated_at" timestamp_with_timezone_text NOT NULL,
    "version" integer NOT NULL,
    CONSTRAINT "pk_yields" PRIMARY KEY ("practice_id", "id"),
    FOREIGN KEY ("practice_id") REFERENCES "practices" ("id"),
    FOREIGN KEY ("practice_id", "field_id") REFERENCES "fields" ("practice_id", "id"),
    FOREIGN KEY ("practice_id", "created_by") REFERENCES "accounts" ("practice_id", "id")
);

CREATE INDEX "ix_yields_created_by" ON "yields" ("practice_id", "created_by");

CREATE INDEX "ix_yields_field_id_harvested_on" ON "yields" ("practice_id", "field_id", "harvested_on");

CREATE INDEX "ix_yields_updated_at_id" ON "yields" ("practice_id", "updated_at", "id");

CREATE UNIQUE INDEX "ux_yields_fingerprint" ON "yields" ("practice_id", "fingerprint");
