-- What each message came to, without its text and its number: what the season's counts are made of.

create table tally (
    message uuid primary key,
    received_at timestamptz not null,
    line text not null,
    language text,
    place text,
    crop text,
    verdict text,
    troubles text[] not null,
    replied boolean not null,
    to_person boolean not null,
    person_answered_at timestamptz
);
create index tally_received on tally (received_at);
