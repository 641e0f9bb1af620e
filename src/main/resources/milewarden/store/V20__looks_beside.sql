-- A look that decides and the one beside it may be taken in the same judgement, and both are kept. The
-- old table took one of a number and a moment; neither database changes that without writing it anew.
alter table look rename to look_before;

create table look (
  id ${id},
  model_id bigint not null references model (id),
  candidate ${text} not null,
  baseline ${text} not null,
  against ${text} not null,
  number integer not null,
  taken_at ${text} not null,
  beside boolean not null,
  re_look boolean not null,
  look ${text} not null,
  unique (model_id, candidate, baseline, against, number, taken_at, beside)
);

-- In a name a quote is written with a stroke before it, so no name can be taken for the word.
insert into look (model_id, candidate, baseline, against, number, taken_at, beside, re_look, look)
select model_id, candidate, baseline, against, number, taken_at, look like '%"beside":true%', re_look,
       look
  from look_before order by id;

drop table look_before;
