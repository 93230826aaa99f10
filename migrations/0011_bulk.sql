-- Many messages at once: a list is a file or pasted lines, with one state a row, so that a stop loses none and a rerun
-- repeats none.

create table bulk_list (
    id uuid primary key,
    name text not null,
    staff text not null,
    created_at timestamptz not null,
    -- Empty while its preview is looked at.
    started_at timestamptz,
    -- The columns as they came, by name; an array of texts.
    columns jsonb not null,
    -- Language and place of rows that name none.
    language text,
    place text
);

create table bulk_row (
    list uuid not null references bulk_list (id) on delete cascade,
    -- From 1, in the order of the file.
    n integer not null,
    -- The row's cells as they came.
    cells jsonb not null,
    text text not null,
    -- E.164, where the row names one that can be written to.
    number text,
    language text,
    place text,
    state text not null default 'waiting' constraint bulk_row_state check (state in ('waiting', 'done')),
    reply text,
    encoding text,
    parts integer,
    verdict text,
    water_m3_day double precision,
    area_m2 double precision,
    trouble text,
    problem text,
    -- The message that this row was sent as.
    sent uuid references outbox (id),
    primary key (list, n)
);
create index bulk_row_waiting on bulk_row (list, n) where state = 'waiting';

create table api_key (
    id uuid primary key,
    name text not null,
    -- SHA-256 of the key; the key itself is shown once.
    key_hash bytea not null constraint api_key_once unique,
    created_at timestamptz not null,
    closed_at timestamptz
);
