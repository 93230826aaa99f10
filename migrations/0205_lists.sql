-- Lists from ordinary spreadsheets: what was seen of the file's form, why a number was not taken or that it stands twice, and
-- lists that are renamed, stopped and answered anew.

alter table bulk_list
    add column notes jsonb not null default '[]',
    -- Stopped by staff: rows that wait are not answered until the list is started again.
    add column stopped_at timestamptz;
alter table bulk_row add column number_note text constraint bulk_row_number_note check (number_note in ('rejected', 'twice'));
