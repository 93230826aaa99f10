-- The word that tells a grower that everything is deleted is itself deleted once the network has taken it.

alter table outbox add column last_word boolean not null default false;
