-- Egg lots, trials, and what was counted in them. Eggs left in a lot are the
-- sum of its entries; a look that was corrected stays, with latest 0.

CREATE TABLE lots (
	id        INTEGER PRIMARY KEY,
	name      TEXT NOT NULL UNIQUE COLLATE NOCASE,
	taxon     TEXT NOT NULL,
	region    TEXT NOT NULL,                 -- the place as it may be told
	site      TEXT NOT NULL,                 -- the place in full
	collector TEXT NOT NULL,
	permit    TEXT NOT NULL,                 -- number of the permit
	collected TEXT NOT NULL,                 -- ISO 8601 date, '' when unknown
	sediment  TEXT NOT NULL,
	sieve     REAL,                          -- mesh, micrometres
	note      TEXT NOT NULL,
	added     INTEGER NOT NULL               -- Unix milliseconds
) STRICT;

CREATE TABLE trials (
	id     TEXT PRIMARY KEY,
	taxon  TEXT NOT NULL,
	plan   TEXT NOT NULL,                    -- JSON, see package trial
	made   INTEGER NOT NULL,                 -- Unix milliseconds
	closed INTEGER NOT NULL DEFAULT 0        -- Unix milliseconds; 0 while counting goes on
) STRICT;

CREATE TABLE lot_entries (
	id      INTEGER PRIMARY KEY,
	lot     INTEGER NOT NULL REFERENCES lots(id) ON DELETE CASCADE,
	eggs    INTEGER NOT NULL,                -- put in; below 0 taken out
	trial   TEXT,                            -- that took them
	reason  TEXT NOT NULL,
	entered INTEGER NOT NULL                 -- Unix milliseconds
) STRICT;

CREATE INDEX lot_entries_lot ON lot_entries(lot, eggs);

CREATE TABLE looks (
	id       INTEGER PRIMARY KEY,
	trial    TEXT NOT NULL REFERENCES trials(id) ON DELETE CASCADE,
	dish     TEXT NOT NULL,                  -- blind label
	day      TEXT NOT NULL,                  -- ISO 8601 date, '' for a sum at the end
	eggs     INTEGER,                        -- NULL: not written down
	emerged  INTEGER,
	hatched  INTEGER,
	dead     INTEGER,
	note     TEXT NOT NULL,
	sheet    TEXT NOT NULL,                  -- name of the file it came from
	latest   INTEGER NOT NULL,               -- 1 for the look that stands
	recorded INTEGER NOT NULL                -- Unix milliseconds
) STRICT;

CREATE INDEX looks_trial ON looks(trial, latest);
CREATE UNIQUE INDEX looks_standing ON looks(trial, dish, day) WHERE latest = 1;
