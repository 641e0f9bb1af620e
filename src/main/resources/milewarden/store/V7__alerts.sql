-- Who is told, each by an own choice (a record of its own); those of the configuration stand there.
create table recipient (
  id ${id},
  address ${text} not null unique,
  choice ${text} not null,
  changed_at ${text} not null
);

-- A message goes to one receiver over one channel; without one, to those of the configuration.
alter table outbox add column channel ${text} not null default 'mail';
alter table outbox add column recipient ${text};
-- Hours in which it waits; null where it may go at any time.
alter table outbox add column quiet ${text};
-- Message-IDs of earlier messages about the same, the oldest first, with spaces between.
alter table outbox add column earlier ${text} not null default '';

-- What a message tells of.
create table told_item (
  outbox_id bigint not null references outbox (id),
  due_item_id bigint not null references due_item (id),
  primary key (outbox_id, due_item_id)
);
create index told_item_due on told_item (due_item_id, outbox_id);
insert into told_item (outbox_id, due_item_id)
  select id, due_item_id from outbox where due_item_id is not null;

-- What waits for a receiver's next digest; settled when it was told, or closed before it was.
create table digest_item (
  address ${text} not null,
  due_item_id bigint not null references due_item (id),
  queued_at ${text} not null,
  settled_at ${text}
);
create unique index digest_item_waiting on digest_item (address, due_item_id)
  where settled_at is null;

-- The local date of each receiver's last digest.
create table digest (
  address ${text} primary key,
  day ${text} not null,
  made_at ${text} not null
);

-- Who has seen an alert, and until when it is put off.
alter table due_item add column acknowledged_at ${text};
alter table due_item add column acknowledged_by ${text};
alter table due_item add column snoozed_until ${text};
create index due_item_snoozed on due_item (snoozed_until) where snoozed_until is not null;
