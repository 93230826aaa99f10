-- The deployment's one price list: what the nearest town asks for the parts, and for petrol. Kept as it was imported, one
-- row for each import, so that it can be seen what an earlier advice was priced with; the newest is in force.

create table price_list (
    id bigint generated always as identity primary key,
    prices jsonb not null,
    imported_at timestamptz not null
);
