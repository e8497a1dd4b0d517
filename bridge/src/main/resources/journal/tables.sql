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

-- Entries and frames in one row of numbers.
CREATE VIEW line AS
  SELECT seq, session, wall_us, box_us, minute, kind, about, who, text, number, yes, local
    FROM entry
  UNION ALL
  SELECT seq, session, wall_us, box_us, minute,
    CASE WHEN connection IS NULL THEN 91 ELSE 90 END,
    (SELECT name FROM connection WHERE connection.number = frame.connection),
    NULL, printf('%08X', header) || '#' || hex(data), NULL, NULL, NULL
    FROM frame;

-- What has happened, for people: local time, and the layout's.
CREATE VIEW happened AS
  SELECT seq, session,
    strftime('%Y-%m-%d %H:%M:%f', wall_us / 1e6, 'unixepoch', 'localtime') AS time,
    printf('%02d:%02d', minute / 60, minute % 60) AS layout_time,
    topic, word AS kind, about, who, text, entry.number, yes
    FROM entry JOIN kind ON kind.number = entry.kind;

-- What people asked for, with the answer.
CREATE VIEW orders AS
  SELECT told.seq, told.session,
    strftime('%Y-%m-%d %H:%M:%f', told.wall_us / 1e6, 'unixepoch', 'localtime') AS time,
    told.who, told.text AS sentence, answer.yes AS granted, answer.text AS answer
    FROM entry AS told
    LEFT JOIN entry AS answer
      ON answer.seq > told.seq AND answer.seq < told.seq + 100000
      AND answer.kind = 21 AND answer.session = told.session AND answer.number = told.number
    WHERE told.kind = 20;

-- Frames as CAN tools have them.
CREATE VIEW traffic AS
  SELECT seq, session,
    strftime('%Y-%m-%d %H:%M:%f', wall_us / 1e6, 'unixepoch', 'localtime') AS time,
    coalesce((SELECT name FROM connection WHERE connection.number = frame.connection), 'sent')
      AS connection,
    printf('%08X', header) || '#' || hex(data) AS frame
    FROM frame;
