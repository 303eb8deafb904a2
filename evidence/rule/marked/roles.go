package marked

// roles are the classes and groups of cues that the reader itself asks for, each
// by the name of its field in lower case. Package syntax describes the files in
// which they stand.
type roles struct {
	// Act claims the quantities near it. Event says that hatching happened, Nil
	// that it was nil, Hatch is any word for it, Viable among them.
	Act, Event, Hatch, Nil, Adverse, Helpful, Unaffected, Effect, Reduce, Need, NoNeed, Idle, Alike, Change, Trend, Kill Bits
	// What is spoken of. Topic is eggs or hatching; what may do nothing under a
	// condition is an Agent.
	Topic, Egg, Larva, Newborn, Life, Animal, Rear, Treat, Chill, Store, Dried, Agent, Absence, Incubation, OxygenTold, Rainy, Wetted, Subitaneous Bits
	// What makes hatching of two words only together.
	Comes, Opens, Gave, First, Begins, ItWord, They, YoungCount Bits
	// Emergence from the shell beside hatching, and what a paper says it counted.
	Emergence, Emerging, PostHatch, Opened, Freed, Defines, Counted Bits
	// Denial, what was left out, and Lift, what turns denial round: unless, until.
	Neg, Without, Omitted, Excepting, Never, Barely, Lift, NeitherOf, Handful Bits
	// How clauses hang together. Resume says of others what was said before,
	// Relative opens an inserted clause, Restrictive one without commas, But a contrast that no commas make an
	// aside, Versus sets one share against another.
	Contrast, But, Nevertheless, Coord, Prep, Resume, Relative, Restrictive, Versus, Respectively, Likewise, ProVerb Bits
	// Whom or what a word refers back to.
	Former, Latter, Both, Heir, Anaphor, ThatTemp, Beside, Batch Bits
	// Whose finding it is, and in what voice it is told. Aim is what was asked or
	// tested, BeforeUse a hold told as method.
	Hearsay, Citing, Comparison, Aim, Instruct, Past, Present, BeforeUse Bits
	// Bounds and changes of a quantity beside the word. DownTo opens a bound unless
	// Lowering makes it the end of a change.
	InsideOf, InWord, Reached, Earliest, Latest, Below, Above, Betweens, DownTo, Lowering, Moved, BroughtTo Bits
	// Levels named by their order.
	FirstOne, SecondOne, ThirdOne, LastOne, FinalOne, Only, FirstTwo, FirstThree, FirstFour, LastTwo, LastThree, Lowest, Highest, Middlemost, Others Bits
	// Fraction is a share of eggs; it and YoungCount are kinds of quantity.
	Fraction Bits
}
