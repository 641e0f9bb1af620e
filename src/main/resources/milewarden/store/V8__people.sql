-- Who may come in. A person that left keeps the row: what they did is on record under their name.
-- name_key is the name in small letters, by which it is found; once_key is it while they are here.
create table person (
  id ${id},
  name ${text} not null,
  name_key ${text} not null,
  once_key ${text} unique,
  role ${text} not null,
  passphrase ${text} not null,
  added_at ${text} not null,
  changed_at ${text} not null,
  left_at ${text}
);

-- Secrets of cookies and tokens are random; their SHA-256 is kept.
create table sign_in (
  secret ${text} primary key,
  person_id bigint not null references person (id),
  begun_at ${text} not null,
  seen_at ${text} not null
);
create index sign_in_person on sign_in (person_id);

-- maker_id null: made at the machine itself, where nobody had a passphrase, or by command.
create table api_token (
  id ${id},
  name ${text} not null,
  secret ${text} not null unique,
  role ${text} not null,
  maker_id bigint references person (id),
  made_by ${text} not null,
  made_at ${text} not null,
  expires_at ${text} not null,
  revoked_at ${text}
);

-- Who changed what, in the transaction that changed it. Added to, never changed.
create table change_record (
  id ${id},
  at ${text} not null,
  actor_kind ${text} not null,
  actor ${text} not null,
  what ${text} not null,
  subject ${text} not null,
  words ${text} not null
);
create index change_record_what on change_record (what, id);
