-- Ready was said of a database that answered, though its disk was full and nothing could be stored. Whether there is room is
-- found by asking for some, in a step that is then undone.

create unlogged table room_probe (filler bytea not null) with (autovacuum_vacuum_threshold = 20);
alter table room_probe alter column filler set storage external;
