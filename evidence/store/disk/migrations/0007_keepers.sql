-- Whose trial it is: '' for one of this library's own keeper, else by what name
-- its keeper goes, as the parcel told that brought it.

ALTER TABLE trials ADD COLUMN keeper TEXT NOT NULL DEFAULT '';
