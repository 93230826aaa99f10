-- Whoever is in danger must stand first at the desk: the danger that a message showed is kept beside it.
alter table inbound add column danger text constraint inbound_danger check (danger in
    ('shock', 'bad_air', 'in_water', 'fire', 'not_breathing', 'live_water', 'poison', 'hurt', 'distress'));
