-- What is measured or judged anew because the engine, a course or the policy changed.

-- A run that waits for its new results: its model is not judged meanwhile, for half the evidence
-- would close what is due and raise it again.
alter table run add column anew boolean not null default false;
create index run_anew on run (id) where anew;

-- Recordings that come back to the measuring stage for it: what is new goes first.
alter table received_file add column anew boolean not null default false;
create index received_file_turn on received_file (anew, id) where state = 'received';

-- Why and when, and how much of it. policy: the rules by which was judged from then on.
create table recomputation (
  id ${id},
  queued_at ${text} not null,
  because ${text} not null,
  detail ${text} not null,
  engine_version ${text} not null,
  policy ${text} not null,
  runs integer not null
);
