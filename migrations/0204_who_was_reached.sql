-- The season's report asks how many growers were reached, how many of them are new, and what gardens the advice was for. A
-- grower is counted by the random name that the desk knows it by; deleted with everything else of the grower, that name leads
-- nowhere, and the count stays.

alter table tally
    add column grower uuid,
    add column garden_m2 double precision,
    -- In the month that the set was counted for.
    add column water_m3_day double precision;
update tally set grower = grower.id
    from inbound join grower on grower.number = inbound.sender where inbound.id = tally.message;
