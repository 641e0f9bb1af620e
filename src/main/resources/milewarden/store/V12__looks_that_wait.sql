-- When a model is to be judged again although nothing about it changes: a look waits until nothing of
-- its sessions has come in for a while. The moment of judging itself: as soon as what came in is measured.
alter table judgement add column again_at ${text};
