-- An organisation's own reports read what was said and who was reached. A key made for answers alone still opens no record.

alter table api_key add column reads_records boolean not null default false;
create index inbound_in_order on inbound (received_at, id);
create index outbox_in_order on outbox (created_at, id);
