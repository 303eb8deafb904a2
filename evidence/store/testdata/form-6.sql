-- A small library as a program of form 5 wrote it.

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
	entries       TEXT NOT NULL DEFAULT '', -- JSON array, '' for none
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

-- What the keeper says of papers that tell of one experiment. By content, so
-- that it outlives a new reading and a new key.

CREATE TABLE experiments (
	hash   TEXT PRIMARY KEY,                 -- of the paper judged
	first  TEXT NOT NULL,                    -- hash of the paper that published its experiment first; '' for one of its own
	reason TEXT NOT NULL,
	judged INTEGER NOT NULL                  -- Unix milliseconds
) STRICT;

-- Where the file of a paper was when it was last ingested. By content, so that
-- it outlives a new reading. Both ways lead there: the first still does when
-- the library's folder is moved alone, the second when the papers move with it.

CREATE TABLE places (
	hash TEXT PRIMARY KEY,                   -- of the file's bytes
	path TEXT NOT NULL,                      -- from the root of the file system
	near TEXT NOT NULL                       -- from the library's folder; '' where no way leads
) STRICT;

PRAGMA user_version = 6;
PRAGMA application_id = 1751936882;

INSERT INTO papers (id, hash, key, source, size, format, title, authors, year, journal, volume, extent, doi, edited, lang, engine, state, note, ingested, reader, rules, digest) VALUES (1, '0000000000000000000000000000000000000000000000000000000000000001', 'ficta1901', 'papers/ficta-1.pdf', 1234, 'pdf', 'Eggs of an invented shrimp', '["Ficta, A.","Übel, Ö."]', 1901, 'Invented Waters', '7', '1–9', '10.0000/invented', 0, 'en', 'pdfium', 'whole', '', 1700000000123, '1', '1', 'b361e617ea211070181c2ccf3a89cc87');
INSERT INTO pages (paper, number, how, why, text, layout) VALUES (1, 1, 'text', '', x'004d6574686f6473204379737473206f6620422e206669637461206c6179206174203420c2b04320666f72203330206461797320616e64206861746368656420617420313520c2b0432e', x'013ccec16d84301085e15edef91dc62004762bd61c203801054864cc09b9b428256d0b2b6097ebe8d7376fc704e7bdb02e591745452b95b01431058d88d0a8121d9cdff10d8721b4fdb87c8158e1308734fcf42b885fb803d1ccab4b6d37855715c3ba4de95d35ac4b25e2490e70296e81f8385634b44a6f69f574ce9ba511d5ac5989f99e312e9f21c6d0df9fcd45e2f1ff87acf9190000ffff');
INSERT INTO pages (paper, number, how, why, text, layout) VALUES (1, 2, 'text', '', x'0124cb410a80201005d0abfc4ddb3088085a75856e20fe31051941a785b70f6affde25fd29d671469386cd817e7464852541a885d81d26246f21090ff8cfb18dac37626d58d6bf68550133e7370000ffff', x'013c8e414e86301844ef32eb597cad21b4bd4af32d40aa10014d292bd2a3198fe4158cf0ff6c272f6fde81192146a1b36cad6de8a511be88184b23221455a24788073e1030a66e98d677101b029654c6cf6103f1851085ad565e5ce9fa393da89cb67d2e4fcad15925f2a91c114ade13f1fa5fe1e895d1d3ebe939374f23aa55ab12cb9d31ad6f29e734dccfe652e2f7e71b55eb5f000000ffff');
INSERT INTO claims (id, paper, page, first, past, quote, section, taxon, taxon_printed, stage, factor, bearing, low, high, unit, category, printed, secondhand, cited, implied, inferred, twice_read, ocr, rule, score, decision) VALUES ('6df286de8253', 1, 2, 14, 21, '60 days', 'results', 'Branchinella ficta', 'B. ficta', 'hatching', 'stratification-length', 'favours', 60, 60, 'd', '', '60 days', 1, '(Alder 1960)', 0, 0, 0, 0, 'r1', 0.5, '');
INSERT INTO claims (id, paper, page, first, past, quote, section, taxon, taxon_printed, stage, factor, bearing, low, high, unit, category, printed, secondhand, cited, implied, inferred, twice_read, ocr, rule, score, decision) VALUES ('bc9b61e0e242', 1, 1, 42, 49, '30 days', 'results', 'Branchinella ficta', 'B. ficta', 'hatching', 'stratification-length', 'favours', 28, 31, 'd', '', '30 days', 0, '', 0, 0, 0, 0, 'r1', 0.5, 'amended');
INSERT INTO claims (id, paper, page, first, past, quote, section, taxon, taxon_printed, stage, factor, bearing, low, high, unit, category, printed, secondhand, cited, implied, inferred, twice_read, ocr, rule, score, decision) VALUES ('2b58d859b5be', 1, 1, 65, 70, '15 °C', 'results', 'Branchinella ficta', 'B. ficta', 'hatching', 'incubation-temperature', 'favours', 15, 15, 'degC', '', '15 °C', 0, '', 0, 0, 0, 0, 'r1', 0.5, 'rejected');
INSERT INTO decisions (id, thread, latest, claim, made_on, hash, by_hand, reading, amended, verdict, reason, decided) VALUES (1, 1, 1, 'bc9b61e0e242', 'bc9b61e0e242', '0000000000000000000000000000000000000000000000000000000000000001', 0, '{"id":"bc9b61e0e242","source":"papers/ficta-1.pdf","paper":"ficta1901","page":1,"start":42,"end":49,"quote":"30 days","section":"results","taxon":"Branchinella ficta","taxon_printed":"B. ficta","stage":"hatching","factor":"stratification-length","bearing":"favours","low":30,"high":30,"unit":"d","category":"","printed":"30 days","secondhand":false,"cited":"","implied":false,"inferred":false,"twice_read":false,"ocr":false,"rule":"r1","score":0.5,"decision":""}', '{"id":"bc9b61e0e242","source":"papers/ficta-1.pdf","paper":"ficta1901","page":1,"start":42,"end":49,"quote":"30 days","section":"results","taxon":"Branchinella ficta","taxon_printed":"B. ficta","stage":"hatching","factor":"stratification-length","bearing":"favours","low":28,"high":31,"unit":"d","category":"","printed":"30 days","secondhand":false,"cited":"","implied":false,"inferred":false,"twice_read":false,"ocr":false,"rule":"r1","score":0.5,"decision":"amended"}', 'amended', 'the table says so', 1700000000000);
INSERT INTO decisions (id, thread, latest, claim, made_on, hash, by_hand, reading, amended, verdict, reason, decided) VALUES (2, 2, 1, '2b58d859b5be', '2b58d859b5be', '0000000000000000000000000000000000000000000000000000000000000001', 0, '{"id":"2b58d859b5be","source":"papers/ficta-1.pdf","paper":"ficta1901","page":1,"start":65,"end":70,"quote":"15 °C","section":"results","taxon":"Branchinella ficta","taxon_printed":"B. ficta","stage":"hatching","factor":"incubation-temperature","bearing":"favours","low":15,"high":15,"unit":"degC","category":"","printed":"15 °C","secondhand":false,"cited":"","implied":false,"inferred":false,"twice_read":false,"ocr":false,"rule":"r1","score":0.5,"decision":""}', NULL, 'rejected', 'another pool', 1700000000001);
INSERT INTO aliases (old, new, reason, made) VALUES ('Prisca umbrosa', 'Branchinella ficta', 'moved', 1700000000000);
INSERT INTO lots (name, taxon, region, site, collector, permit, collected, sediment, sieve, note, added) VALUES ('fen', 'Branchinella ficta', 'the fens', 'upper hollow', 'Jo Alder', '', '2025-03-01', 'peat', 90.5, '', 1700000000000);
INSERT INTO lot_entries (lot, eggs, trial, reason, entered) VALUES (1, 240, NULL, 'picked', 1700000000000);
INSERT INTO experiments (hash, first, reason, judged) VALUES ('0000000000000000000000000000000000000000000000000000000000000001', '', 'its own', 1700000000000);
INSERT INTO places (hash, path, near) VALUES ('0000000000000000000000000000000000000000000000000000000000000001', '/keepers/papers/ficta-1.pdf', '../papers/ficta-1.pdf');
