-- A talk in somebody's hands was a lock on the waiting list: the program went on answering, what was typed lay in the browser
-- alone, and the only way to send was to finish. It becomes a conversation: held by number (a grower who writes by two lines
-- is one grower), with the switch of who answers, the last sign of whoever holds it, and an hour after its end in which what
-- the grower writes still goes to that member of staff.

create table grower (
    -- By which the desk's paths name a grower: a number has no place in an address.
    id uuid primary key default gen_random_uuid(),
    number text not null constraint grower_once unique,
    since timestamptz not null default now(),
    -- When a message last came or went.
    last_at timestamptz not null default now()
);
insert into grower (number, since, last_at)
    select number, min(at), max(at)
    from (select number, updated_at as at from talk union all select sender, received_at from inbound) known
    group by number;

create index grower_last on grower (last_at desc, id desc);

create function noonwater_grower_known() returns trigger language plpgsql as $$
begin
    insert into grower (number, since, last_at) values (new.number, new.updated_at, new.updated_at)
        on conflict on constraint grower_once do update set last_at = greatest(grower.last_at, excluded.last_at);
    return null;
end
$$;
create trigger talk_of_grower after insert or update on talk
    for each row execute function noonwater_grower_known();

drop trigger talk_in_hand_changed on talk_in_hand;
alter table talk_in_hand rename to talk_in_hand_before;
alter table talk_in_hand_before rename constraint talk_in_hand_pkey to talk_in_hand_before_pkey;
create table talk_in_hand (
    number text primary key,
    staff uuid not null references staff (id),
    taken_at timestamptz not null,
    -- The last sign of whoever holds it.
    seen_at timestamptz not null,
    -- The program answers too.
    program_helps boolean not null default false,
    -- When it was dealt with.
    finished_at timestamptz
);
insert into talk_in_hand (number, staff, taken_at, seen_at)
    select distinct on (number) number, staff, taken_at, taken_at from talk_in_hand_before order by number, taken_at;
drop table talk_in_hand_before;
create trigger talk_in_hand_changed after insert or delete or update of staff, program_helps, finished_at on talk_in_hand
    for each statement execute function noonwater_desk_changed();

-- What is typed for a grower and not sent yet.
create table draft (
    number text not null,
    staff uuid not null references staff (id),
    -- The fields of the form by name.
    fields jsonb not null,
    updated_at timestamptz not null,
    primary key (number, staff)
);

-- Why a message is put before a human: asked, not_understood, danger, rough_place, gave_up, failed, wrote_back.
alter table inbound add column person_reason text;

-- Who of staff wrote it, by the name at that time.
alter table outbox add column staff text;

create index inbound_by_sender on inbound (sender, received_at);
create index outbox_by_recipient on outbox (recipient, created_at);
