-- Times are ISO 8601 text with the offset of the clock they were read from.
CREATE TABLE session (
  id         TEXT NOT NULL COLLATE NOCASE UNIQUE,
  title      TEXT NOT NULL,
  sheet_path TEXT NOT NULL,
  sheet_text TEXT NOT NULL,
  started    TEXT NOT NULL
) STRICT;
