-- How often something moved that answers about a model rest on: counted in the transaction that moves
-- it, so that what was worked out about one model outlives what comes in on the others.
alter table model add column moved bigint not null default 0;
-- The judgement without what it rests on, as lists show it: to take it out of the whole text, up to
-- megabytes each, kept the first overview after a start waiting. It holds where it is of the row's own
-- moment; null until the model is judged next.
alter table judgement add column brief ${text};
alter table judgement add column brief_at ${text};
