-- The monthly climate of the places that growers may be at, imported from place files.

create table place (
    -- The name without regard to case, so that a grower's way of writing it finds the place.
    name_key text primary key,
    name text not null,
    lat_deg double precision not null constraint place_lat check (lat_deg between -90 and 90),
    lon_deg double precision not null constraint place_lon check (lon_deg between -180 and 180),
    alt_m double precision not null,
    utc_offset_h double precision not null constraint place_offset check (utc_offset_h between -12 and 14),
    coastal boolean not null default false,
    season_months jsonb not null,
    months jsonb not null constraint place_twelve_months check (jsonb_array_length(months) = 12),
    updated_at timestamptz not null
);
