-- The desk: who may sit at it, who is signed in, what they did, and which waiting talk is in whose hands.

create table staff (
    id uuid primary key,
    name text not null,
    -- The name without regard to case: two accounts must not look alike.
    name_key text not null constraint staff_name_once unique,
    role text not null constraint staff_role check (role in ('reads', 'answers', 'runs')),
    -- An argon2id hash in PHC form; never the password.
    password text not null,
    created_at timestamptz not null,
    -- Set when the account may no longer sign in; its name stays in the audit.
    closed_at timestamptz
);

-- Wrong passwords in a row, by the name that was typed, whether or not it is an account's: the pause must not tell.
create table sign_in_failure (
    name_key text primary key,
    failures integer not null,
    not_before timestamptz not null,
    last_at timestamptz not null
);

create table staff_session (
    -- SHA-256 of the key that the browser holds.
    key_hash bytea primary key,
    staff uuid not null references staff (id),
    created_at timestamptz not null,
    ends_at timestamptz not null
);
create index staff_session_ends on staff_session (ends_at);

create table audit (
    id bigint generated always as identity primary key,
    at timestamptz not null,
    -- The name at that time, so that the entry outlives the account.
    staff text not null,
    did text not null,
    -- What it was done to: the name of a place, an account, a file; the identifier of a message. Never a text or a number.
    about text not null
);

-- A message that a human has dealt with; of one that waits for a human this is empty.
alter table inbound add column person_done_at timestamptz;
create index inbound_waiting on inbound (line, sender, received_at) where wants_person and person_done_at is null;

-- In whose hands a waiting talk is: one member of staff at a time.
create table talk_in_hand (
    line text not null,
    number text not null,
    staff uuid not null references staff (id),
    taken_at timestamptz not null,
    primary key (line, number)
);

-- Tells the desk's open pages that something waits.
create function noonwater_desk_changed() returns trigger language plpgsql as $$
begin
    perform pg_notify('noonwater_desk', '');
    return null;
end
$$;
create trigger inbound_wants_person_changed after update of wants_person, person_done_at on inbound
    for each row execute function noonwater_desk_changed();
create trigger talk_in_hand_changed after insert or delete on talk_in_hand
    for each statement execute function noonwater_desk_changed();
