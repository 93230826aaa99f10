-- The season's report also says what growers were advised to change, by code, and how long a reply took until the network
-- had it. Messages counted before have neither: no fixes, and no time, which the medians pass over.

alter table tally
    add column fixes text[] not null default '{}',
    add column reply_taken_at timestamptz;
