-- A recording that is no run: the track of a survey-grade receiver carried along in a session.
create table reference_track (
  file_id bigint primary key references received_file (id),
  session_id bigint not null references session (id),
  started_at ${text} not null,
  ended_at ${text} not null,
  added_at ${text} not null
);
create index reference_track_session on reference_track (session_id, started_at);
