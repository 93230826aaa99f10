-- Wrong passwords were counted by name alone, so that anybody could make a name wait for a quarter of an hour, again and
-- again, and the table was searched from end to end at each of them. They are counted by the name and where they come from.
-- A password can be changed and set anew, an account opened again; keys of machines end and tell when they were last used.

drop table sign_in_failure;

create table sign_in_try (
    name_key text not null,
    -- The address, or the network of an address, that it came from.
    address text not null,
    failures integer not null,
    not_before timestamptz not null,
    last_at timestamptz not null,
    primary key (name_key, address)
);
create index sign_in_try_last on sign_in_try (last_at);

-- A password that somebody else has set: the next thing done with it is to choose another.
alter table staff add column must_change boolean not null default false;

create index staff_session_staff on staff_session (staff);

alter table api_key
    add column expires_at timestamptz,
    add column last_used_at timestamptz;
update api_key set expires_at = now() + interval '365 days';
alter table api_key alter column expires_at set not null;
