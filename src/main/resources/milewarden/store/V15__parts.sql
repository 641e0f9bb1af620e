-- Deflated bytes beyond what one row takes, in their order from 1 on; the first lie in content. A row
-- of a database has a limit, and a recording of any size is written and read without lying in memory.
create table content_part (
  sha256 ${text} not null references content (sha256),
  number integer not null,
  deflated ${bytes} not null,
  primary key (sha256, number)
);

-- False for what no recording is: only its name and its size are remembered.
alter table content add column kept boolean not null default true;
