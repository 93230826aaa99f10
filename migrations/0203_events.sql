-- An organisation's own program is told when somebody wants a person or is in danger: each such message once, tried again for
-- a day while its address does not answer.

alter table inbound
    add column event_told_at timestamptz,
    add column event_due_at timestamptz,
    add column event_attempts integer not null default 0;
create index inbound_event on inbound (received_at) where wants_person and event_told_at is null;
