-- Whether a number has opted out was read out of the stored talk by whoever sends, past the version of its form: a form that
-- calls it otherwise would let messages go to numbers that want none. It is a column of its own.

alter table talk add column stopped boolean not null default false;
update talk set stopped = true where talk ->> 'stopped' = 'true';
