-- A list of a hundred thousand messages is queued at one moment, so that its rows differ in nothing but their order: the
-- index that finds what is due next must hold that order too, or every look sorts them all.

drop index outbox_waiting;
create index outbox_waiting on outbox (line, next_try_at, seq) where state in ('queued', 'leased');
