-- Gardens that no file has: the text of each one's garden file, as people who joined by text made it.
create table kept_garden (
  id text primary key,
  -- Counts all changes of all gardens: whoever knows one of them asks for those after it.
  edition integer not null unique check (edition >= 1),
  -- The garden whose invite word led to it.
  host text,
  body text not null,
  sum integer not null
) strict, without rowid;
