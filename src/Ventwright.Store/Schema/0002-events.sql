-- Entries are numbered 1, 2, 3 ... within their session and are never deleted.
CREATE TABLE event (
  session_id TEXT NOT NULL COLLATE NOCASE REFERENCES session (id),
  number     INTEGER NOT NULL CHECK (number > 0),
  happened   TEXT NOT NULL,
  entered_by TEXT NOT NULL,
  kind       TEXT NOT NULL,
  body       TEXT NOT NULL CHECK (json_valid(body)),
  undone     INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1)),
  PRIMARY KEY (session_id, number)
) STRICT, WITHOUT ROWID;
