-- The library's first form: papers, their pages, their claims, and the
-- keeper's decisions. Columns hold values as the Go types name them; absent
-- numbers are NULL.

CREATE TABLE papers (
	id       INTEGER PRIMARY KEY,
	hash     TEXT NOT NULL UNIQUE,           -- SHA-256 of the file's bytes, hex
	key      TEXT NOT NULL UNIQUE,           -- citation key
	source   TEXT NOT NULL,                  -- path as the keeper gave it
	size     INTEGER NOT NULL,               -- bytes
	format   TEXT NOT NULL,
	title    TEXT NOT NULL,
	authors  TEXT NOT NULL,                  -- JSON array of names
	year     INTEGER NOT NULL,               -- 0 when unknown
	journal  TEXT NOT NULL,
	volume   TEXT NOT NULL,
	extent   TEXT NOT NULL,                  -- pages in the journal, as printed
	doi      TEXT NOT NULL,
	edited   INTEGER NOT NULL DEFAULT 0,     -- how often the keeper mended the record
	lang     TEXT NOT NULL,
	engine   TEXT NOT NULL,
	state    TEXT NOT NULL,
	note     TEXT NOT NULL,
	ingested INTEGER NOT NULL,               -- Unix milliseconds
	reader   TEXT NOT NULL,                  -- version of the reader
	rules    TEXT NOT NULL,                  -- version of the rules
	digest   TEXT NOT NULL                   -- of everything read, claims included
) STRICT;

CREATE TABLE pages (
	paper  INTEGER NOT NULL REFERENCES papers(id) ON DELETE CASCADE,
	number INTEGER NOT NULL,
	how    TEXT NOT NULL,
	why    TEXT NOT NULL,
	text   BLOB NOT NULL,                    -- packed, see pack.go
	layout BLOB NOT NULL,                    -- lines, blocks and marks, packed
	PRIMARY KEY (paper, number)
) STRICT;

-- Covers the counts of a listing, so that no page's text is touched.
CREATE INDEX pages_how ON pages(paper, how);

-- Values are those in force: an amendment by the keeper stands here, the
-- machine's reading stands in the decision that amended it.
CREATE TABLE claims (
	id            TEXT NOT NULL,
	paper         INTEGER NOT NULL REFERENCES papers(id) ON DELETE CASCADE,
	page          INTEGER NOT NULL,
	first         INTEGER NOT NULL,          -- code points into the page's text
	past          INTEGER NOT NULL,          -- one past the last
	quote         TEXT NOT NULL,
	section       TEXT NOT NULL,
	taxon         TEXT NOT NULL,
	taxon_printed TEXT NOT NULL,
	stage         TEXT NOT NULL,
	factor        TEXT NOT NULL,
	bearing       TEXT NOT NULL,
	low           REAL,
	high          REAL,
	unit          TEXT NOT NULL,
	category      TEXT NOT NULL,
	printed       TEXT NOT NULL,
	secondhand    INTEGER NOT NULL,
	cited         TEXT NOT NULL,
	implied       INTEGER NOT NULL,
	inferred      INTEGER NOT NULL,
	twice_read    INTEGER NOT NULL,
	ocr           INTEGER NOT NULL,
	rule          TEXT NOT NULL,
	score         REAL NOT NULL,
	decision      TEXT NOT NULL,
	PRIMARY KEY (id, paper)
) STRICT;

-- Its last column covers the counts of a listing.
CREATE INDEX claims_paper  ON claims(paper, page, first, decision);
-- Its last columns cover the counts by taxon.
CREATE INDEX claims_taxon  ON claims(taxon, factor, decision, secondhand, paper);
CREATE INDEX claims_factor ON claims(factor, taxon);

-- What the keeper decided, in order, never altered but for the link to the
-- claim it stands on. No foreign key to papers or claims: a decision outlives
-- a re-reading and the removal of its paper.
CREATE TABLE decisions (
	id      INTEGER PRIMARY KEY,
	thread  INTEGER NOT NULL,                -- id of the first decision on the same claim
	latest  INTEGER NOT NULL,                -- 1 for the last of its thread
	claim   TEXT,                            -- the claim it stands on now, NULL when the reading lost it
	made_on TEXT NOT NULL,                   -- id of that claim when the decision was made
	hash    TEXT NOT NULL,                   -- content hash of the paper
	by_hand INTEGER NOT NULL,                -- 1: the keeper wrote the claim
	reading TEXT NOT NULL,                   -- the claim as the machine (or the hand) had it, JSON
	amended TEXT,                            -- the claim as the keeper has it, JSON, of an amendment
	verdict TEXT NOT NULL,                   -- '' withdraws what was decided before
	reason  TEXT NOT NULL,
	decided INTEGER NOT NULL                 -- Unix milliseconds
) STRICT;

CREATE INDEX decisions_hash    ON decisions(hash, latest);
CREATE INDEX decisions_claim   ON decisions(claim, latest);
CREATE INDEX decisions_made_on ON decisions(made_on);
CREATE INDEX decisions_thread  ON decisions(thread);
