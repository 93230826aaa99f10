-- The classes of pump that the nearest town sells, until now the same for every deployment: staff add the ones they meet at
-- the market and take out what is sold no more. Filled with the classes that a deployment starts with when it is empty.

create table pump_class (
    name text primary key,
    -- The order in which classes without a price are tried.
    place bigint generated always as identity,
    label_v double precision not null,
    flow_l_h double precision not null,
    head_m double precision not null,
    -- Empty where the label prints none.
    amps double precision,
    electronics boolean not null,
    life_h double precision not null
);
