-- The journal of Tappet. config/journal.md describes it.

CREATE TABLE file (
  number INTEGER PRIMARY KEY,
  sha256 TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  text TEXT NOT NULL
);

CREATE TABLE session (
  number INTEGER PRIMARY KEY,
  began_us INTEGER NOT NULL,
  ended_us INTEGER,
  first_seq INTEGER NOT NULL,
  whole INTEGER NOT NULL,
  layout_file INTEGER NOT NULL REFERENCES file,
  rule_file INTEGER NOT NULL REFERENCES file,
  start TEXT NOT NULL
);

CREATE TABLE kind (
  number INTEGER PRIMARY KEY,
  word TEXT NOT NULL,
  topic TEXT NOT NULL
);

CREATE TABLE connection (
  number INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE
);

CREATE TABLE entry (
  seq INTEGER PRIMARY KEY,
  session INTEGER NOT NULL REFERENCES session,
  wall_us INTEGER NOT NULL,
  box_us INTEGER NOT NULL,
  minute INTEGER,
  kind INTEGER NOT NULL REFERENCES kind,
  about TEXT,
  who TEXT,
  text TEXT,
  number INTEGER,
  yes INTEGER,
  local TEXT
);

CREATE TABLE frame (
  seq INTEGER PRIMARY KEY,
  session INTEGER NOT NULL REFERENCES session,
  wall_us INTEGER NOT NULL,
  box_us INTEGER NOT NULL,
  minute INTEGER,
  connection INTEGER REFERENCES connection,
  header INTEGER NOT NULL,
  data BLOB NOT NULL
);
