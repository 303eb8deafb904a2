-- What the keeper says of papers that tell of one experiment. By content, so
-- that it outlives a new reading and a new key.

CREATE TABLE experiments (
	hash   TEXT PRIMARY KEY,                 -- of the paper judged
	first  TEXT NOT NULL,                    -- hash of the paper that published its experiment first; '' for one of its own
	reason TEXT NOT NULL,
	judged INTEGER NOT NULL                  -- Unix milliseconds
) STRICT;
