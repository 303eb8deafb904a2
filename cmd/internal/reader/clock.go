package reader

import (
	"sync"
	"time"
)

// Step is a part of a paper's path from file to library.
type Step string

// The steps in their order.
const (
	StepRead     Step = "read"     // PDF bytes to characters, waiting for a reader process included
	StepPictures Step = "pictures" // drawing pages and OCR
	StepAssemble Step = "assemble" // characters to text, lines and sections
	StepClaims   Step = "claims"   // text to record and claims
	StepWitness  Step = "witness"  // figures looked up with the second reader
	StepStore    Step = "store"
	StepIndex    Step = "index"
)

// Steps returns all steps in their order.
func Steps() []Step {
	return []Step{StepRead, StepPictures, StepAssemble, StepClaims, StepWitness, StepStore, StepIndex}
}

// Clock adds up how long each step took over all papers. Papers are read side
// by side, so that the sum may be longer than the ingest. A nil Clock measures
// nothing.
type Clock struct {
	mu    sync.Mutex
	spent map[Step]time.Duration
}

// Start begins a step; the function that it returns ends it.
func (c *Clock) Start(step Step) func() {
	if c == nil {
		return func() {}
	}
	begun := time.Now()
	return func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		if c.spent == nil {
			c.spent = map[Step]time.Duration{}
		}
		c.spent[step] += time.Since(begun)
	}
}

// Spent returns what a step took so far.
func (c *Clock) Spent(step Step) time.Duration {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.spent[step]
}
