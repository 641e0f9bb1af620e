-- When something of a kind moved last is asked after every change, by every open page: without these
-- each question went through all files, runs and measurements, in a store of 200,000 for nearly a second.
create index received_file_settled on received_file (state, settled_at);
create index run_changed on run (changed_at);
create index measurement_measured on measurement (measured_at);
