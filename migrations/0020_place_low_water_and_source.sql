-- The river stands lowest in a month of its own, which need not be the last of the watering season, and a climate is
-- worth as much as its source: both are kept with the place. Places stored before have neither, which reads as
-- "the last month of the season" and "not stated".
alter table place
    add column low_water_month smallint constraint place_low_water check (low_water_month between 1 and 12),
    add column source text;
