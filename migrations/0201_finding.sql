-- Staff find a talk again by what was said in it, and write down about a grower what no message holds.

create index inbound_words on inbound using gin (to_tsvector('simple', body));
create index outbox_words_of_staff on outbox using gin (to_tsvector('simple', body)) where staff is not null;

create table grower_note (
    id bigint generated always as identity primary key,
    grower uuid not null references grower (id) on delete cascade,
    at timestamptz not null,
    -- Who wrote it, by the name at that time.
    staff text not null,
    text text not null
);
create index grower_note_of on grower_note (grower, at);

create table grower_tag (
    grower uuid not null references grower (id) on delete cascade,
    tag text not null,
    primary key (grower, tag)
);
create index grower_tag_by_tag on grower_tag (tag);
