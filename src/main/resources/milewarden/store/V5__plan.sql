-- Plans of campaigns: written once each, never changed; the last of a release is in force, and
-- locked from the release's first run on.
create table campaign_plan (
  id ${id},
  model_id bigint not null references model (id),
  firmware ${text} not null,
  planned_at ${text} not null,
  planned_by ${text} not null,
  record ${text} not null
);
create index campaign_plan_release on campaign_plan (model_id, firmware, id);
