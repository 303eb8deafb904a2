// Package syntax describes the three kinds of data file that package rule
// reads, and reads and prints one of them, the rule files. It does not know which
// classes of cues there are: whether a rule names one that no cue file has is for
// package rule to say.
//
// # Cue files
//
// One file per language, cues/LANG.cue. Every entry is a name, a colon and a
// list of phrases parted by commas; lines that begin with white space carry
// the list on; # begins a comment.
//
//	language: en
//	common: the, of, and, in
//	abbreviation: spp, al, fig
//	hatch: hatch*, nauplii ~ appear*, *schlupf*
//
// The entry "language" names the language by its ISO 639-1 code. "common"
// lists frequent words: they tell the language of a text, and a full stop
// followed by one of them ends a sentence. "abbreviation" lists words whose
// full stop ends no sentence, "ordinal" those before which a number with a
// full stop is one ("am 3. Tag"). All other names are classes of cues; a word
// may occur in as many classes as make sense.
//
// A phrase is a sequence of words. Case and marks on letters do not count
// (marks do for words of a file that differ in them alone and stand in
// different classes, as German "wurde" and "würde"), hyphens and apostrophes
// part words. A word may begin or end with * and then matches any word that
// ends or begins so. ~ stands for up to three further
// words, none of them behind a semicolon, a colon or a bracket; <n> for a
// number in figures.
//
// A phrase hides shorter phrases of its class inside it. A phrase of a class
// in the group mask hides the shorter cues inside it, of whatever class:
// "newly hatched" under posthatch keeps "hatched" from being read as an
// outcome. The class "void" serves for nothing else; a phrase of it hides the
// cues of the very same words too.
//
// # Rule files
//
// rules/*.rule hold groups and rules. A group names several classes at once:
//
//	group event = hatch | viable
//
// The reader itself asks for some groups and classes by name: they are listed
// under Roles below. A rule is a head line and indented lines:
//
//	rule temperature.incubation
//	  on temperature
//	  when nearest hatch | incubate among chill | store | adult
//	  unless value < 0
//	  claim incubation-temperature outcome else context
//	  weight 0.95
//	  takes "Eggs of Fictia alba hatched at 12 °C." => favours 12
//	  leaves "Adults of Fictia alba live at 12 °C."
//
// The part of the id before the full stop is the rule's family. In one
// family, the first rule in file order that fits a target decides about it;
// families do not disturb each other. A rule with "silent" in place of
// "claim" keeps its target from the rules below it.
//
// "on" names what the rule looks at: kinds of quantity (temperature duration
// fraction conductivity salinity ph oxygen photoperiod) or classes of cues.
// In conditions some more kinds may be named: coldness, a temperature above 0
// and at most 7 °C; coolness, one of at most 10 °C; frost, one of at most 0 °C;
// weeks, a duration of at least 14 days; moment, a duration that is a point in
// time ("day 9"); span, a value from one end to another; hardlyany, a share above 0
// and at most 2 %.
// A cue is looked at once per clause and family.
//
// Every "when" must hold and no "unless" may. The conditions are
//
//	A | B in SCOPE      a cue of one of the classes, or a quantity of one of
//	                    the kinds, is there; SCOPE is one of clause, sentence,
//	                    previous, next, around (all three), about (around, the sentence
//	                    before the previous, or title), block (four sentences
//	                    each way), title (with the heading above)
//	A | B before N      ends at most N words before the target, same sentence
//	A | B after N       begins at most N words behind it
//	A | B near N        either
//	A | B here          overlaps the target
//	nearest A among B   of all cues of A and B in the sentence, the one nearest
//	                    to the target is of A; clause limits count as distance
//	value < 0           the target in canonical units; also <= > >=; holds
//	                    when both ends of a range do
//	bears favours | prevents | indifferent | unsaid
//	                    what the clause says about hatching
//	several             the target stands in a list of levels
//	level FACTOR        a sentence shortly before gave this very value to FACTOR
//	beside FACTOR       one did so with another value of the target's clause
//	follows FACTOR      the quantity of the same kind before the target, in an
//	                    earlier clause of the sentence, was claimed for FACTOR;
//	                    "none": was kept silent
//
// A claim line is: claim FACTOR BEARING [else BEARING] [category NAME]
// [floor | ceiling]. BEARING is favours, prevents, indifferent, reported,
// outcome (what the clause says; without such a word the bearing behind else)
// or context (favours where hatching under that one condition is told in the
// neighbourhood, else reported); none after else gives no claim. The category
// "own" takes a photoperiod's own ratio, or the trigger that a cue names. floor keeps the low end of the number
// only, ceiling the high end. "bare" drops the number. "first-hand" makes it the
// paper's own finding, whoever is cited in the sentence.
//
// "weight" is the rule's part of the score, 0 to 1.
//
// "takes" is a text from which the rule must make a claim with the bearing
// and value behind =>; a value is a number, LOW..HIGH with either end left
// out, or a category. For a silent rule nothing follows. "leaves" is a text
// in which the rule must not act. Both are run as tests, each in English
// unless the text begins with a language code and a colon, as in "de: ...".
//
// # Head files
//
// Rows of tables are read without rules. What the words of column heads, row
// labels and captions mean stands in heads/LANG.head, one file per language in
// the form of a cue file; its classes are fixed:
//
//	hatched nauplii emerged response   a column counts eggs that did so
//	time                               how long they took
//	number percent                     in what the cells count
//	count stat foreign                 a column that says nothing of hatching:
//	                                   numbers of eggs, statistics, adults or ponds
//	cold dry undried store frozen temperature conductivity salinity ph oxygen
//	photoperiod dark lit carbon-dioxide low-oxygen flooding
//	                                   what was done to the eggs
//	control                            eggs without the treatment
//	origin                             where the eggs came from
//	hold after                         what was done before incubation
//	link join within                   how a head hangs together
//	day week month year hour           units of time
//
// Claims from tables carry the ids table.row (a level in a row, by the
// outcomes beside it), table.column (a level in a head, by those below it),
// table.share, table.time and table.caption (a condition of all eggs).
//
// # Roles
//
// Some groups and classes the reader itself asks for, in whatever rule or none:
// those that package marked lists as roles, each with what it is for.
package syntax
