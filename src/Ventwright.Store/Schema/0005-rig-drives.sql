-- What a run with the simulated car is about, as JSON: enough to let a sound unit make the same run. NULL for other runs.
ALTER TABLE rig_run ADD COLUMN drive TEXT CHECK (drive IS NULL OR json_valid(drive));
