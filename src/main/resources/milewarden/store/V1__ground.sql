-- One migration for both databases. The placeholders are filled in by Database:
--   id     a key that counts up
--   text   text that sorts by its bytes
--   bytes  a block of bytes
-- Instants are text, 2026-05-12T07:00:00.000Z, and dates 2026-05-12, so that both sort as they read.
-- Lengths end in _m, spans in _s, signed errors in _percent of the reference length.

-- The bytes of every file that was ever given to us, deflated, each once.
create table content (
  sha256 ${text} primary key,
  deflated ${bytes} not null,
  size_bytes bigint not null,
  stored_at ${text} not null
);

-- What came in together and is told of once. Open while the drop folder is busy.
create table batch (
  id ${id},
  opened_at ${text} not null,
  closed_at ${text},
  told_at ${text}
);
create index batch_untold on batch (id) where told_at is null;

create table received_file (
  id ${id},
  batch_id bigint not null references batch (id),
  path ${text} not null,
  sha256 ${text} not null references content (sha256),
  kind ${text} not null,
  state ${text} not null,
  duplicate_of bigint references received_file (id),
  code ${text},
  place ${text},
  sentence ${text},
  missing ${text} not null default '',
  received_at ${text} not null,
  settled_at ${text},
  left_inbox boolean not null default false,
  claimed_until ${text}
);
create index received_file_queue on received_file (id) where state = 'received';
create index received_file_state on received_file (state, id);
create index received_file_batch on received_file (batch_id, state);
create index received_file_path on received_file (path, id);
create index received_file_hash on received_file (sha256, id);

-- Several sources may say the same; which one wins is the order of the sources. pass 0: the whole recording.
create table tag (
  file_id bigint not null references received_file (id),
  pass integer not null,
  name ${text} not null,
  source ${text} not null,
  value ${text} not null,
  origin ${text} not null,
  set_at ${text} not null,
  primary key (file_id, pass, name, source)
);

-- Every revision of every row of a field sheet. A row is known by session + unit + pass.
create table sheet_row (
  id ${id},
  session ${text} not null,
  unit ${text} not null,
  pass ${text} not null,
  revision integer not null,
  is_current boolean not null,
  sheet_file_id bigint not null references received_file (id),
  row_number integer not null,
  file_path ${text} not null,
  tags ${text} not null,
  extra ${text} not null,
  missing ${text} not null default '',
  received_at ${text} not null,
  unique (session, unit, pass, revision)
);
create unique index sheet_row_current on sheet_row (session, unit, pass) where is_current;
create index sheet_row_path on sheet_row (file_path) where is_current;
create index sheet_row_sheet on sheet_row (sheet_file_id);

create table course_version (
  id ${id},
  slug ${text} not null,
  version ${text} not null,
  name ${text} not null,
  file_name ${text} not null,
  site ${text} not null,
  length_m double precision not null,
  standard_uncertainty_m double precision not null,
  closed boolean not null,
  in_force boolean not null,
  added_at ${text} not null,
  course ${text} not null,
  notices ${text} not null,
  unique (slug, version)
);
create unique index course_in_force on course_version (slug) where in_force;

-- What is wrong with a course file as it lies in the folder now.
create table course_problem (
  file_name ${text} not null,
  position integer not null,
  place ${text} not null,
  sentence ${text} not null,
  found_at ${text} not null,
  primary key (file_name, position)
);

create table model (
  id ${id},
  name ${text} not null unique,
  added_at ${text} not null
);

create table unit (
  id ${id},
  model_id bigint not null references model (id),
  name ${text} not null unique,
  control boolean not null,
  added_at ${text} not null
);
create index unit_model on unit (model_id);

create table firmware (
  id ${id},
  model_id bigint not null references model (id),
  version ${text} not null,
  released_on ${text} not null,
  assumed boolean not null,
  added_at ${text} not null,
  unique (model_id, version)
);

create table session (
  id ${id},
  name ${text} not null unique,
  tagged boolean not null,
  first_start ${text} not null,
  last_start ${text} not null,
  local_date ${text} not null,
  added_at ${text} not null
);
create index session_date on session (local_date, id);
create index session_start on session (first_start, id);

-- One recording of one unit, or a row of a field sheet with a shown distance alone.
create table run (
  id ${id},
  file_id bigint unique references received_file (id),
  row_session ${text},
  row_unit ${text},
  row_pass ${text},
  session_id bigint not null references session (id),
  unit_id bigint not null references unit (id),
  firmware_id bigint not null references firmware (id),
  course_slug ${text} not null,
  carriage ${text} not null,
  gait ${text} not null,
  settings ${text} not null,
  started_at ${text} not null,
  ended_at ${text},
  operator ${text},
  notes ${text},
  held_for bigint references run (id),
  added_at ${text} not null,
  changed_at ${text} not null,
  unique (row_session, row_unit, row_pass)
);
create index run_unit on run (unit_id, started_at);
create index run_session on run (session_id);
create index run_firmware on run (firmware_id, started_at);
create index run_course on run (course_slug, started_at);
create index run_started on run (started_at, id);

-- A run measured by one version of the engine against one version of a course.
create table measurement (
  id ${id},
  run_id bigint not null references run (id),
  engine_version ${text} not null,
  course_slug ${text} not null,
  course_version ${text} not null,
  track_length_m double precision,
  recorded_length_m double precision,
  recording ${text},
  findings ${text} not null,
  measured_at ${text} not null,
  unique (run_id, engine_version, course_version)
);
create index measurement_engine on measurement (engine_version, course_version);

create table result (
  id ${id},
  measurement_id bigint not null references measurement (id),
  pass integer not null,
  direction ${text} not null,
  bounds ${text} not null,
  laps integer not null,
  started_at ${text},
  duration_s double precision,
  on_course boolean not null,
  track_resolvable boolean not null,
  reference_m double precision not null,
  horizontal_reference_m double precision not null,
  track_m double precision,
  recorded_m double precision,
  shown_as_read_m double precision,
  shown_low_m double precision,
  shown_high_m double precision,
  display_step_m double precision,
  track_error_percent double precision,
  recorded_error_percent double precision,
  shown_as_read_error_percent double precision,
  shown_low_error_percent double precision,
  shown_high_error_percent double precision,
  slope_m double precision,
  ends_m double precision,
  line_m double precision,
  backtrack_m double precision,
  weave_m double precision,
  bend_m double precision,
  chord_m double precision,
  source_m double precision,
  indication_low_m double precision,
  indication_high_m double precision,
  predicted_inflation_m double precision,
  offset_rms_m double precision,
  detail ${text},
  series ${bytes},
  unique (measurement_id, pass)
);

-- Why a pass (pass 0: every pass of the run) does not count; lifted, never deleted.
create table exclusion (
  id ${id},
  run_id bigint not null references run (id),
  pass integer not null,
  reason ${text} not null,
  excluded_by ${text} not null,
  excluded_at ${text} not null,
  words ${text} not null,
  lifted_by ${text},
  lifted_at ${text}
);
create unique index exclusion_standing on exclusion (run_id, pass) where lifted_at is null;

-- The models that must be judged again. generation counts the reasons that came meanwhile.
create table mark (
  model_id bigint primary key references model (id),
  generation bigint not null,
  quiet boolean not null,
  marked_at ${text} not null,
  claimed_until ${text}
);

create table judgement (
  model_id bigint primary key references model (id),
  judged_at ${text} not null,
  engine_version ${text} not null,
  judgement ${text} not null
);

-- The comparisons of the latest judgement, for lists; the whole of them is in the judgement.
create table comparison (
  model_id bigint not null references model (id),
  position integer not null,
  candidate ${text} not null,
  baseline ${text} not null,
  against ${text} not null,
  outcome ${text} not null,
  because ${text} not null,
  candidate_sessions integer not null,
  baseline_sessions integer not null,
  difference_percent double precision,
  low_percent double precision,
  high_percent double precision,
  primary key (model_id, position)
);

-- Looks that were taken keep their evidence: rows are only added.
create table look (
  id ${id},
  model_id bigint not null references model (id),
  candidate ${text} not null,
  baseline ${text} not null,
  against ${text} not null,
  number integer not null,
  taken_at ${text} not null,
  re_look boolean not null,
  look ${text} not null,
  unique (model_id, candidate, baseline, against, number, taken_at)
);

-- One item per cause. gone_at: when the cause of an item that the tester closed was gone.
create table due_item (
  id ${id},
  model_id bigint not null references model (id),
  cause_key ${text} not null,
  kind ${text} not null,
  severity ${text} not null,
  cause ${text} not null,
  firmware ${text} not null,
  item ${text} not null,
  raised_at ${text} not null,
  told_at ${text},
  closed_at ${text},
  closed_by ${text},
  closed_words ${text},
  gone_at ${text}
);
create unique index due_item_open on due_item (model_id, cause_key) where closed_at is null;
create index due_item_model on due_item (model_id, cause_key, id);

create table due_event (
  id ${id},
  due_item_id bigint not null references due_item (id),
  at ${text} not null,
  what ${text} not null,
  by_whom ${text} not null,
  words ${text} not null
);
create index due_event_item on due_event (due_item_id, id);

-- Published verdicts: the record never changes, its fate stands beside it.
create table verdict (
  id ${id},
  model_id bigint not null references model (id),
  number integer not null,
  firmware ${text} not null,
  published_at ${text} not null,
  published_by ${text} not null,
  words ${text} not null,
  record ${text} not null,
  unique (model_id, number)
);

create table withdrawal (
  verdict_id bigint primary key references verdict (id),
  withdrawn_by ${text} not null,
  withdrawn_at ${text} not null,
  words ${text} not null
);

create table outbox (
  id ${id},
  message_id ${text} not null unique,
  due_item_id bigint references due_item (id),
  subject ${text} not null,
  text_body ${text} not null,
  html_body ${text} not null,
  picture ${bytes},
  state ${text} not null,
  attempts integer not null,
  next_try_at ${text} not null,
  claimed_until ${text},
  created_at ${text} not null,
  sent_at ${text},
  answer ${text}
);
create index outbox_queue on outbox (next_try_at, id) where state = 'queued';
create index outbox_state on outbox (state, id);
