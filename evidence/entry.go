package evidence

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// Entry is an entry of a paper's own list of references. As text it is its
// place, a colon and its words: "12: Hallow, J. (1987). Eggs in mud."
type Entry struct {
	Place   int    // in the list, from 1
	Printed string // its lines joined
}

// Entries are those that one claim cites, in the order of its citation.
type Entries []Entry

// MarshalText writes an entry as text.
func (e Entry) MarshalText() ([]byte, error) {
	return fmt.Appendf(nil, "%d: %s", e.Place, e.Printed), nil
}

// UnmarshalText reads what MarshalText writes.
func (e *Entry) UnmarshalText(text []byte) error {
	place, printed, ok := strings.Cut(string(text), ": ")
	n, err := strconv.Atoi(place)
	if !ok || err != nil {
		return fmt.Errorf("an entry begins with its place in the list and a colon, not %q", place)
	}
	*e = Entry{n, printed}
	return nil
}

// MarshalJSON writes a list, empty where there are none.
func (e Entries) MarshalJSON() ([]byte, error) {
	if e == nil {
		return []byte("[]"), nil
	}
	return json.Marshal([]Entry(e))
}

// Cite makes c somebody else's finding, as the keeper names it; with an empty
// citation the paper's own. What was read of its source goes with the words it
// was read from.
func (c *Claim) Cite(cited string) {
	if cited != c.Cited {
		c.Entries = nil
	}
	c.Cited, c.Secondhand = cited, cited != ""
}
