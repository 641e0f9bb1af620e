-- The lag of a smoothing filter as the pass shows it in its bends, seconds, with the ends of its 95 % interval;
-- null where the bends tell nothing of it. The same stands in its detail, which a judge need not read for it.
alter table result add column lag_s double precision;
alter table result add column lag_low_s double precision;
alter table result add column lag_high_s double precision;
