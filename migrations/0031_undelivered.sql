-- A reply that no gateway took after the last try was only counted: staff could not see whose it was, why, or send it again.
-- The reason of the newest try is kept; a reply that staff have let be is out of their list and keeps its state.

alter table outbox
    add column not_taken_because text,
    add column let_be_at timestamptz;
create index outbox_undelivered on outbox (updated_at) where state = 'undelivered' and let_be_at is null;

create trigger outbox_undelivered_changed after update of state, let_be_at on outbox
    for each row when (
        old.state is distinct from new.state and (old.state = 'undelivered' or new.state = 'undelivered')
        or old.let_be_at is distinct from new.let_be_at
    ) execute function noonwater_desk_changed();
