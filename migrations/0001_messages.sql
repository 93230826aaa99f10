-- Every message in and out, and where the talk with each number stands. One transaction stores a message, moves its
-- talk and queues the reply, so that a stop between any two statements loses nothing and answers nothing twice.

create table inbound (
    id uuid primary key,
    line text not null,
    -- The gateway's own name for the message: a repeat of it is the same message.
    external_id text not null,
    sender text not null,
    recipient text not null,
    body text not null,
    -- When the gateway says it was sent; kept as a record only.
    sent_at timestamptz,
    received_at timestamptz not null,
    wants_person boolean not null default false,
    constraint inbound_once unique (line, external_id)
);
create index inbound_sender on inbound (line, sender, received_at);
create index inbound_wants_person on inbound (received_at) where wants_person;

create table talk (
    number text primary key,
    -- The version of the form below; readers upgrade older ones.
    form integer not null,
    talk jsonb not null,
    updated_at timestamptz not null
);

create table outbox (
    id uuid primary key,
    -- The order in which replies were decided, and in which one number gets them.
    seq bigint generated always as identity,
    line text not null,
    sender text not null,
    recipient text not null,
    body text not null,
    encoding text not null constraint outbox_encoding check (encoding in ('gsm7', 'ucs2')),
    parts integer not null constraint outbox_parts check (parts > 0),
    state text not null default 'queued' constraint outbox_state check (
        state in ('queued', 'leased', 'taken', 'undelivered', 'delivered', 'failed', 'expired')
    ),
    attempts integer not null default 0,
    next_try_at timestamptz not null,
    -- Who sends it now, until when: a sender that dies gives it back by doing nothing.
    lease_until timestamptz,
    in_reply_to uuid references inbound (id),
    created_at timestamptz not null,
    updated_at timestamptz not null,
    constraint outbox_one_reply unique (in_reply_to)
);
create index outbox_waiting on outbox (line, next_try_at) where state in ('queued', 'leased');
create index outbox_waiting_in_order on outbox (line, recipient, seq) where state in ('queued', 'leased');
create index outbox_recipient on outbox (line, recipient, seq);
