-- Runs of rigs. Heads and cells are JSON arrays of text, a cell for each head, as in the CSV log. A run without an end is under way, or the program was ended while it ran.
CREATE TABLE rig_run (
  number     INTEGER PRIMARY KEY,
  session_id TEXT NOT NULL COLLATE NOCASE REFERENCES session (id),
  rig        TEXT NOT NULL,
  unit       TEXT NOT NULL,
  what       TEXT NOT NULL,
  started    TEXT NOT NULL,
  started_by TEXT NOT NULL,
  heads      TEXT NOT NULL CHECK (json_valid(heads)),
  ended      TEXT,
  why        TEXT,
  fault      INTEGER CHECK (fault IN (0, 1)),
  outputs    TEXT,
  statistics TEXT CHECK (statistics IS NULL OR json_valid(statistics)),
  notes      TEXT CHECK (notes IS NULL OR json_valid(notes))
) STRICT;
CREATE INDEX rig_run_of_session ON rig_run (session_id);
CREATE TABLE rig_sample (
  run    INTEGER NOT NULL REFERENCES rig_run (number),
  number INTEGER NOT NULL CHECK (number > 0),
  cells  TEXT NOT NULL CHECK (json_valid(cells)),
  PRIMARY KEY (run, number)
) STRICT, WITHOUT ROWID;
