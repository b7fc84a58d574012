-- Gardens that no file has: the text of each one's garden file, as people who joined by text made it.
create table ryebell.kept_garden (
  id text primary key,
  -- Counts all changes of all gardens: whoever knows one of them asks for those after it.
  edition bigint not null unique check (edition >= 1),
  -- The garden whose invite word led to it.
  host text,
  body text not null
);

-- The last edition. Its row is what changes wait for, so that editions become visible in order.
create table ryebell.edition (
  last bigint not null
);
create unique index edition_has_one_row on ryebell.edition ((true));
insert into ryebell.edition (last) values (0);
