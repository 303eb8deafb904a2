-- Names that the keeper reads as others, and what stood around the quotes of
-- papers that are known from another library and not here as files.

CREATE TABLE aliases (
	old    TEXT NOT NULL PRIMARY KEY COLLATE NOCASE,
	new    TEXT NOT NULL,
	reason TEXT NOT NULL,
	made   INTEGER NOT NULL                  -- Unix milliseconds
) STRICT;

CREATE TABLE contexts (
	paper  INTEGER NOT NULL REFERENCES papers(id) ON DELETE CASCADE,
	claim  TEXT NOT NULL,
	prefix TEXT NOT NULL,
	suffix TEXT NOT NULL,
	PRIMARY KEY (paper, claim)
) STRICT;
