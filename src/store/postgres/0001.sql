-- The database for many gardeners, first version. The same facts as in the file database, for several workers at once.
-- Later steps only add: a worker of the version before goes on working while the others are brought up to date.

create schema ryebell;

create table ryebell.version (
  version integer not null
);
create unique index version_has_one_row on ryebell.version ((true));

-- The clock of all leases. It is the database's own, since the workers' clocks may differ; a trial may replace it.
create function ryebell.clock() returns timestamptz
language sql stable as 'select now()';

-- A garden: the last number of its log, and when somebody must look after it. Its row is what appends to one log wait for.
create table ryebell.garden (
  id text primary key,
  last_seq integer not null default 0 check (last_seq >= 0),
  -- Stands for all that a plan follows from besides log, day and weather; null: the garden is not served.
  mark text,
  look_at timestamptz,
  lease_until timestamptz,
  check ((mark is null) = (look_at is null))
) with (fillfactor = 80);

create index garden_to_look_after on ryebell.garden (look_at) where look_at is not null;

-- The log. `body` is the entry as `ryebell log --json` prints it, save its number.
create table ryebell.entry (
  garden text not null references ryebell.garden (id),
  seq integer not null check (seq >= 1),
  body text not null,
  primary key (garden, seq)
);

create function ryebell.refuse_change() returns trigger
language plpgsql as $$
begin
  raise exception 'the log is append-only: an entry is never changed or deleted';
end $$;

create trigger entry_is_never_changed before update or delete on ryebell.entry
for each row execute function ryebell.refuse_change();

create trigger entries_are_never_emptied before truncate on ryebell.entry
for each statement execute function ryebell.refuse_change();

-- Ends a statement, and all that it wrote, where the log has moved on since the caller looked at it.
create function ryebell.follows(last integer, seen integer) returns boolean
language plpgsql as $$
begin
  if seen is not null and last <> seen then
    raise exception 'the log has moved on: it stands at %, not at %', last, seen using errcode = 'RY001';
  end if;
  return true;
end $$;

-- When a reminder speaks next to a person. Made from garden, log and weather: dropping the rows loses nothing.
create table ryebell.reminder (
  garden text not null,
  person text not null,
  id text not null,
  speaks_at timestamptz not null,
  primary key (garden, person, id)
) with (fillfactor = 90);

create index reminder_by_time on ryebell.reminder (speaks_at, garden, person, id);

-- Whose turn it is to be told something: one row a person, held by at most one worker at a time.
create table ryebell.turn (
  garden text not null,
  person text not null,
  lease text,
  lease_until timestamptz,
  worker text,
  primary key (garden, person)
) with (fillfactor = 80);

-- Messages to people. The key is our own and unique: what is queued twice is there once.
create table ryebell.outgoing (
  n bigint generated always as identity primary key,
  key text not null unique,
  garden text not null,
  person text not null,
  kind text not null,
  body text not null,
  -- Ids of the reminders that it tells.
  said jsonb not null default '[]',
  state text not null default 'waiting' check (state in ('waiting', 'sending', 'sent', 'failed', 'dropped')),
  attempts integer not null default 0 check (attempts >= 0),
  due_at timestamptz not null,
  lease_until timestamptz,
  worker text,
  carrier_id text,
  fate text,
  last_error text
) with (fillfactor = 80);

create index answers_waiting on ryebell.outgoing (due_at, n)
 where state = 'waiting' and kind in ('answer', 'service');
create index others_waiting on ryebell.outgoing (due_at, n)
 where state = 'waiting' and kind not in ('answer', 'service');
create index outgoing_sending on ryebell.outgoing (due_at, n) where state = 'sending';
create index nudge_on_its_way on ryebell.outgoing (garden, person)
 where kind = 'nudge' and state in ('waiting', 'sending');

-- Messages from people, kept as they came, before anything tries to understand them.
create table ryebell.incoming (
  n bigint generated always as identity primary key,
  id text not null unique,
  sender text not null,
  body text not null,
  attempts integer not null default 0 check (attempts >= 0),
  lease_until timestamptz,
  worker text,
  applied boolean not null default false
);

create index incoming_open on ryebell.incoming (n) where not applied;

-- Small things remembered by name.
create table ryebell.memory (
  name text primary key,
  value text not null
) with (fillfactor = 80);
