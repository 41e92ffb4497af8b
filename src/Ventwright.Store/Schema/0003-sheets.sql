-- Sheets of the workshop. A saved text is a version and never changes; the draft is what somebody is writing.
CREATE TABLE sheet (
  id   TEXT NOT NULL COLLATE NOCASE UNIQUE,
  made TEXT NOT NULL
) STRICT;
CREATE TABLE sheet_version (
  sheet_id TEXT NOT NULL COLLATE NOCASE REFERENCES sheet (id),
  number   INTEGER NOT NULL CHECK (number > 0),
  text     TEXT NOT NULL,
  saved    TEXT NOT NULL,
  saved_by TEXT NOT NULL,
  PRIMARY KEY (sheet_id, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE sheet_draft (
  sheet_id TEXT NOT NULL COLLATE NOCASE PRIMARY KEY REFERENCES sheet (id),
  text     TEXT NOT NULL,
  kept     TEXT NOT NULL
) STRICT, WITHOUT ROWID;
