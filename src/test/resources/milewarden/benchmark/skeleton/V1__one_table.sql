create table reading (m double precision not null);
