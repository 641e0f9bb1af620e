-- What a token is for, beside its role: codes parted by spaces. Those that were made before are
-- for all that their role may.
alter table api_token add column scopes ${text} not null default 'all';
