-- The numbers of a season were counted from every message each time somebody looked: seconds at two million. Days that are over
-- are counted once: by each split and key, with how long people and replies took as counts of messages by the length of the
-- time (a bucket is a tenth longer than the one before, from a millisecond on).

create table tally_day (
    day date not null,
    split text not null,
    key text not null,
    messages bigint not null,
    by_program bigint not null,
    to_person bigint not null,
    person_answered bigint not null,
    enough bigint not null,
    tight bigint not null,
    short bigint not null,
    with_trouble bigint not null,
    with_fix bigint not null,
    person_times jsonb not null,
    taken_times jsonb not null,
    primary key (split, day, key)
);
-- The days that are counted so, whether or not a message came.
create table tally_day_counted (
    day date primary key,
    messages bigint not null
);
