-- What is on its way stood among all messages ever sent: each try rewrote a row of the largest table with all its indexes, and
-- to find what is due next every reply that waits for a retry was looked at. It has a table of its own, small and short-lived,
-- with one moment at which a row is due: the next try, or the end of the lease of who tries it. The large table's rows now
-- change only in columns that no index knows (heap-only updates).
--
-- Also here: the order of importance, what is known of each line as a whole, and messages that were refused for good, stopped
-- by an opt-out, or failed at the phone.

create table sending (
    id uuid primary key references outbox (id) on delete cascade,
    seq bigint not null,
    line text not null,
    recipient text not null,
    -- 0 danger, 1 answers, 2 staff, 3 reminders, 4 lists.
    priority smallint not null constraint sending_priority check (priority between 0 and 4),
    -- Empty: nothing is tried any more, staff have to look at it.
    due_at timestamptz,
    is_leased boolean not null default false,
    -- Tries so far; also the name of a lease.
    attempts integer not null default 0,
    -- Why the newest try failed, or why there are no more.
    reason text,
    -- From when its days are counted.
    since timestamptz not null,
    -- When it came before staff.
    given_up_at timestamptz
) with (fillfactor = 70, autovacuum_vacuum_scale_factor = 0.02, autovacuum_vacuum_threshold = 500);
create index sending_due on sending (line, priority, due_at, seq) where due_at is not null;
create index sending_in_order on sending (recipient, line, priority, seq) where due_at is not null;
create index sending_given_up on sending (given_up_at, seq) where due_at is null;

insert into sending (id, seq, line, recipient, priority, due_at, attempts, reason, since, given_up_at)
select id, seq, line, recipient, case when in_reply_to is null then 2 else 1 end,
       case when state = 'undelivered' then null else greatest(next_try_at, lease_until) end,
       attempts, not_taken_because, created_at,
       case when state = 'undelivered' then updated_at end
from outbox where state in ('queued', 'leased') or state = 'undelivered' and let_be_at is null;

drop trigger outbox_undelivered_changed on outbox;
drop index outbox_waiting, outbox_waiting_in_order, outbox_undelivered, outbox_recipient;
alter table outbox drop constraint outbox_state;
update outbox set state = 'queued' where state = 'leased';
alter table outbox
    drop column attempts, drop column next_try_at, drop column lease_until, drop column not_taken_because,
    drop column let_be_at,
    -- A menu's screen that waits for more, so that a repeated call shows the same screen.
    add column more boolean not null default false,
    add constraint outbox_state check (
        state in ('queued', 'taken', 'refused', 'undelivered', 'stopped', 'delivered', 'failed', 'expired')
    ),
    set (fillfactor = 85);
-- By the number first: what is held of one number is found, and deleted, whatever the line.
create index outbox_recipient on outbox (recipient, line, seq);
create index outbox_created on outbox using brin (created_at);
-- A message that is deleted takes nothing else with it.
alter table outbox drop constraint outbox_in_reply_to_fkey,
    add constraint outbox_in_reply_to_fkey foreign key (in_reply_to) references inbound (id) on delete set null;

create function noonwater_given_up_changed() returns trigger language plpgsql as $$
begin
    if tg_op = 'DELETE' then
        if old.due_at is null then perform pg_notify('noonwater_desk', ''); end if;
    elsif (old.due_at is null) <> (new.due_at is null) then
        perform pg_notify('noonwater_desk', '');
    end if;
    return null;
end
$$;
create trigger sending_given_up_changed after update of due_at or delete on sending
    for each row execute function noonwater_given_up_changed();

-- A line as a whole: that it is down is found once, not by each message alone, and holds after a restart and for every
-- process.
create table line_state (
    line text primary key,
    -- In a row.
    failures integer not null default 0,
    down_since timestamptz,
    -- Nothing goes before; while the line is down, one message then tries it.
    not_before timestamptz,
    reason text,
    -- The pace: what has been sent is paid for up to here.
    paid_until timestamptz
) with (fillfactor = 50);

-- The same name with another sender or another text is another message: gateways count from one again.
alter table inbound add column fingerprint bytea;
update inbound set fingerprint = substring(sha256(convert_to(body, 'UTF8')) for 16);
alter table inbound alter column fingerprint set not null,
    drop constraint inbound_once,
    add constraint inbound_once unique (line, external_id, sender, fingerprint);
drop index inbound_sender, inbound_wants_person;
create index inbound_sender on inbound (sender, line, received_at);
create index inbound_received on inbound using brin (received_at);

-- Lists: by number and by what was sent, to forget and to remove.
create index bulk_row_number on bulk_row (number) where number is not null;
create index bulk_row_sent on bulk_row (sent) where sent is not null;
alter table bulk_row drop constraint bulk_row_sent_fkey,
    add constraint bulk_row_sent_fkey foreign key (sent) references outbox (id) on delete set null;

-- Counts hold no place in degrees: one that a grower stood at is as good as a name.
update tally set place = null where place ~ '^\s*[-+]?[0-9]';
create index audit_at on audit using brin (at);

-- Last words that were shown by their own call are deleted a little later.
create index outbox_last_word on outbox (created_at) where last_word;
