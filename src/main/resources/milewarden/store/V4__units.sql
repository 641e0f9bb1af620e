-- How far the units of a model differ, as its last judgement found it: pooled over all models it stands
-- in for what a model with few units can't tell.
create table unit_variance (
  model_id bigint primary key references model (id),
  variance double precision not null,
  degrees_of_freedom double precision not null
);
