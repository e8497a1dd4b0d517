-- The journal's tables for people and SQL tools, made anew by whoever goes on writing in it:
-- whatever an earlier Tappet has made of them is replaced. config/journal.md describes them.

-- Entries and frames in one row of numbers.
DROP VIEW IF EXISTS line;
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
DROP VIEW IF EXISTS happened;
CREATE VIEW happened AS
  SELECT seq, session,
    strftime('%Y-%m-%d %H:%M:%f', wall_us / 1e6, 'unixepoch', 'localtime') AS time,
    CASE WHEN minute IS NOT NULL THEN printf('%02d:%02d', minute / 60, minute % 60) END
      AS layout_time,
    topic, word AS kind, about, who, text, entry.number, yes
    FROM entry JOIN kind ON kind.number = entry.kind;

-- What people asked for, with the answer.
DROP VIEW IF EXISTS orders;
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
DROP VIEW IF EXISTS traffic;
CREATE VIEW traffic AS
  SELECT seq, session,
    strftime('%Y-%m-%d %H:%M:%f', wall_us / 1e6, 'unixepoch', 'localtime') AS time,
    coalesce((SELECT name FROM connection WHERE connection.number = frame.connection), 'sent')
      AS connection,
    printf('%08X', header) || '#' || hex(data) AS frame
    FROM frame;
