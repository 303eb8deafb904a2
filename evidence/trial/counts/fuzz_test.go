package counts

import (
	"strings"
	"testing"
)

func FuzzRead(f *testing.F) {
	f.Add("dish,eggs,hatched,seed,extract\n1,39,10,0,0\n2,62,23,0,0\n")
	f.Add("dish,date,eggs,emerged,hatched,dead,note\nACE,2026-01-01,10,1,2,3,\"a \"\"note\"\"\"\n")
	f.Add("\uFEFFdish,hatched\r\n1,\r\n")
	f.Add("dish,hatched\n\"a\" ,1\n") // a blank behind a quote
	f.Fuzz(func(t *testing.T, s string) {
		c, err := Read(strings.NewReader(s))
		if err != nil {
			return
		}
		for _, dish := range c.byDish() {
			d := sumLooks(dish)
			if d.Hatched < 0 || d.Eggs > 0 && d.Hatched+d.Dead > d.Eggs {
				t.Errorf("%+v passes", d)
			}
		}
		if m, err := c.Merge(c); err != nil || len(m.Looks) != len(c.Looks) {
			t.Errorf("merging counts with themselves: %v", err)
		}
	})
}
