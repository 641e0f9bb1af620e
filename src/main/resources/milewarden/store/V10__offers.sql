-- What is proposed to a file that waits for an answer: name, subject and answers of each question.
alter table received_file add column offers ${text} not null default '';
