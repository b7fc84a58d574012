-- When somebody must look after a garden: made from the served gardens and their logs, so dropping the rows loses nothing.
create table garden (
  id text primary key,
  -- Stands for all that a plan follows from besides log, day and weather.
  mark text not null,
  -- Empty: at once.
  look_at text not null check (look_at = '' or look_at = strftime('%Y-%m-%dT%H:%M:%fZ', look_at)),
  lease_until text check (lease_until = strftime('%Y-%m-%dT%H:%M:%fZ', lease_until))
) strict, without rowid;

create index garden_to_look_after on garden (look_at);

create trigger garden_is_due_after_an_entry after insert on entry
begin update garden set look_at = '' where id = new.garden; end;
