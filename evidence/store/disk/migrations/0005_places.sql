-- Where the file of a paper was when it was last ingested. By content, so that
-- it outlives a new reading. Both ways lead there: the first still does when
-- the library's folder is moved alone, the second when the papers move with it.

CREATE TABLE places (
	hash TEXT PRIMARY KEY,                   -- of the file's bytes
	path TEXT NOT NULL,                      -- from the root of the file system
	near TEXT NOT NULL                       -- from the library's folder; '' where no way leads
) STRICT;
