-- How a run was measured: with this and the bytes it can be measured again, by anybody.
alter table measurement add column options ${text};

-- What the figures of a published verdict rest on, frozen with it: the recordings' bytes and the
-- courses' files lie in content.
create table capsule (
  verdict_id bigint primary key references verdict (id),
  contents ${text} not null
);

-- How often a comparison fires when nothing changed: unchanged periods, split at random.
create table aa_replay (
  id ${id},
  ran_at ${text} not null,
  engine_version ${text} not null,
  rates ${text} not null
);
