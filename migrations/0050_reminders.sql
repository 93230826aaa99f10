-- What growers asked to be reminded of: when it falls due, and by which line and from which of our numbers it goes out.

create table reminder (
    number text not null references talk (number) on delete cascade,
    kind text not null check (kind in ('brushes', 'low_water')),
    due_at timestamptz not null,
    line text not null,
    sender text not null,
    primary key (number, kind)
);
create index reminder_due on reminder (due_at);
