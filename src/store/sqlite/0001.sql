-- The file database, first version. Instants are RFC 3339 in UTC to the millisecond, so they sort as text; a check holds
-- that form, and finds the row where it was damaged.
-- Bodies are JSON; `sum` is the CRC-32 of the body, so that a damaged byte is found and not acted on.

-- The log. One row is one line; `line` is what `ryebell log --json` prints.
create table entry (
  garden text not null,
  seq integer not null check (seq >= 1),
  line text not null,
  sum integer not null,
  primary key (garden, seq)
) strict, without rowid;

create trigger entry_is_numbered_without_holes before insert on entry
when new.seq <> coalesce((select max(seq) from entry where garden = new.garden), 0) + 1
begin select raise(abort, 'the log takes entries in order, without holes'); end;

create trigger entry_is_never_changed before update on entry
begin select raise(abort, 'the log is append-only: an entry is never changed'); end;

create trigger entry_is_never_deleted before delete on entry
begin select raise(abort, 'the log is append-only: an entry is never deleted'); end;

-- When a reminder speaks next to a person. Made from garden, log and weather: dropping the rows loses nothing.
create table reminder (
  garden text not null,
  person text not null,
  id text not null,
  speaks_at text not null check (speaks_at = strftime('%Y-%m-%dT%H:%M:%fZ', speaks_at)),
  primary key (garden, person, id)
) strict, without rowid;

create index reminder_by_time on reminder (speaks_at);

-- A person who is being told something right now: at most one worker at a time.
create table turn (
  garden text not null,
  person text not null,
  lease text not null,
  lease_until text not null check (lease_until = strftime('%Y-%m-%dT%H:%M:%fZ', lease_until)),
  primary key (garden, person)
) strict, without rowid;

-- Messages to people. The key is our own and unique: what is queued twice is there once.
create table outgoing (
  n integer primary key,
  key text not null unique,
  garden text not null,
  person text not null,
  kind text not null,
  body text not null,
  sum integer not null,
  state text not null default 'waiting' check (state in ('waiting', 'sending', 'sent', 'failed', 'dropped')),
  attempts integer not null default 0 check (attempts >= 0),
  due_at text not null check (due_at = strftime('%Y-%m-%dT%H:%M:%fZ', due_at)),
  lease_until text check (lease_until = strftime('%Y-%m-%dT%H:%M:%fZ', lease_until)),
  carrier_id text,
  fate text,
  last_error text
) strict;

create index outgoing_waiting on outgoing (due_at, n) where state = 'waiting';
create index outgoing_sending on outgoing (lease_until) where state = 'sending';
create index nudge_on_its_way on outgoing (garden, person) where kind = 'nudge' and state in ('waiting', 'sending');

-- Messages from people, kept as they came, before anything tries to understand them.
create table incoming (
  n integer primary key,
  id text not null unique,
  body text not null,
  sum integer not null,
  attempts integer not null default 0 check (attempts >= 0),
  lease_until text check (lease_until = strftime('%Y-%m-%dT%H:%M:%fZ', lease_until)),
  applied integer not null default 0 check (applied in (0, 1))
) strict;

create index incoming_open on incoming (n) where applied = 0;

-- Small things remembered by name.
create table memory (
  name text primary key,
  value text not null
) strict, without rowid;
