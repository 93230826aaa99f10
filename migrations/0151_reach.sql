-- A list went out to any number of any country at one account's word. A large one, or one to numbers that never wrote and are
-- of other countries, waits for the word of another account: who asked, by which line, and how many messages were looked at.

alter table bulk_list
    add column asked_by uuid references staff (id),
    add column asked_line text,
    add column asked_count bigint,
    add column asked_verdict text,
    add column asked_at timestamptz;
