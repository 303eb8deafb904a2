-- What a second-hand claim cites of its paper's own list of references.

ALTER TABLE claims ADD COLUMN entries TEXT NOT NULL DEFAULT ''; -- JSON array, '' for none
