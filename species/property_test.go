package species

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/speciestest"
	"hatchlore/species/taxonomy"
	"hatchlore/species/witness"

	"github.com/google/go-cmp/cmp"
)

// What is answered does not depend on the order in which claims come, and every
// side holds what it says.
func TestConflictProperties(t *testing.T) {
	eachLibrary(t, func(r *rand.Rand, claims []evidence.Claim) {
		want := answers(claims, speciestest.Library())
		shuffled := slices.Clone(claims)
		r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		if d := cmp.Diff(jsonOf(t, want), jsonOf(t, answers(shuffled, speciestest.Library()))); d != "" {
			t.Fatalf("the order of claims matters: %s", d)
		}
		ids := map[string]bool{}
		for _, c := range want.Conflicts {
			if ids[c.ID] {
				t.Errorf("id %s is used twice", c.ID)
			}
			ids[c.ID] = true
			checkSides(t, c)
			checkLevels(t, c)
		}
	})
}

// The order of papers is that of their keys. Turned round it changes the order in
// which papers are listed, and no side, witness, level or agreement.
func TestOrderOfPapers(t *testing.T) {
	eachLibrary(t, func(_ *rand.Rand, claims []evidence.Claim) {
		turned := func(key string) string { return string(rune('a'+'z'-key[0])) + key }
		library := witness.Library{}
		for key, p := range speciestest.Library() {
			p.Key = turned(key)
			if p.SameAs != "" {
				p.SameAs = turned(p.SameAs)
			}
			library[p.Key] = p
		}
		var other []evidence.Claim
		for _, c := range claims {
			c.Paper = turned(c.Paper)
			other = append(other, c)
		}
		a, b := standings(Conflicts(claims, speciestest.Library(), nil)), standings(Conflicts(other, library, nil))
		if d := cmp.Diff(a, b); d != "" {
			t.Fatalf("the order of papers matters:\n%s", d)
		}
	})
}

// A paper that repeats as a citation what another found is one more mouth: no
// conflict comes or goes, no witness is added, and no value or level moves.
func TestAnEchoIsNoWitness(t *testing.T) {
	eachLibrary(t, func(_ *rand.Rand, claims []evidence.Claim) {
		with := slices.Clone(claims)
		for _, c := range claims {
			if c.Paper == "alder" && !c.Secondhand {
				c.ID, c.Paper, c.Secondhand, c.Cited = "e"+c.ID, "gorse", true, "(Alder 1960)"
				with = append(with, c)
			}
		}
		sameStandings(t, "an echo", claims, with, speciestest.Library(), speciestest.Library())
	})
}

// A paper that publishes another's experiment again says all it says once more,
// and counts for nothing.
func TestTwicePublishedIsOneWitness(t *testing.T) {
	eachLibrary(t, func(_ *rand.Rand, claims []evidence.Claim) {
		with, library := slices.Clone(claims), speciestest.Library()
		library["again"] = witness.Paper{Key: "again", Authors: []string{"Birch, Ann"}, Year: 1999, SameAs: "birch", Places: library["birch"].Places}
		for _, c := range claims {
			if c.Paper == "birch" && !c.Secondhand {
				c.ID, c.Paper = "t"+c.ID, "again"
				with = append(with, c)
			}
		}
		sameStandings(t, "an experiment published twice", claims, with, speciestest.Library(), library)
	})
}

// A paper on another species of the genus changes nothing that is said of this one.
func TestCongenersStayApart(t *testing.T) {
	eachLibrary(t, func(r *rand.Rand, claims []evidence.Claim) {
		with := slices.Clone(claims)
		for _, c := range speciestest.MadeUp(r, 30) {
			c.ID, c.Paper, c.Taxon = "k"+c.ID, "kin", "Vernocephala alia"
			with = append(with, c)
		}
		ofKin := func(taxon string) bool { return taxon == "Vernocephala alia" }
		before, after := answers(claims, speciestest.Library()), answers(with, speciestest.Library())
		after.Conflicts = slices.DeleteFunc(after.Conflicts, func(c conflict.Conflict) bool { return ofKin(c.Taxon) })
		after.Agreed = slices.DeleteFunc(after.Agreed, func(a Agreement) bool { return ofKin(a.Taxon) })
		if d := cmp.Diff(jsonOf(t, before), jsonOf(t, after)); d != "" {
			t.Fatalf("a congener's paper matters:\n%s", d)
		}
	})
}

// eachLibrary hands claims made at random to a property.
func eachLibrary(t *testing.T, holds func(*rand.Rand, []evidence.Claim)) {
	t.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	for range 100 {
		if holds(r, speciestest.MadeUp(r, 40)); t.Failed() {
			return
		}
	}
}

// said is all that is answered of a species.
type said struct {
	Conflicts []conflict.Conflict
	Open      []conflict.Conflict
	Agreed    []Agreement
}

func answers(claims []evidence.Claim, library witness.Library) said {
	const taxon = "Vernocephala umbrosa"
	var own []evidence.Claim
	for _, c := range claims {
		if c.Taxon == taxon {
			own = append(own, c)
		}
	}
	return said{append([]conflict.Conflict{}, Conflicts(claims, library, nil)...), Questions(taxonomy.Selection{Taxon: taxon, Claims: own}, library), Agreements(claims, library, nil)}
}

// standing is what a keeper would act on.
type standing struct {
	Question  string
	Bearings  []evidence.Bearing
	Witnesses []int
	Levels    []string
}

func standings(cs []conflict.Conflict) map[string]standing {
	out := map[string]standing{}
	for _, c := range cs {
		s := standing{Question: c.Question}
		for _, side := range c.Sides {
			s.Bearings, s.Witnesses = append(s.Bearings, side.Bearing), append(s.Witnesses, side.Firsthand)
		}
		for _, l := range c.Levels {
			s.Levels = append(s.Levels, l.Label)
		}
		out[c.ID] = s
	}
	return out
}

func sameStandings(t *testing.T, what string, before, after []evidence.Claim, was, is witness.Library) {
	t.Helper()
	if d := cmp.Diff(standings(Conflicts(before, was, nil)), standings(Conflicts(after, is, nil))); d != "" {
		t.Errorf("%s matters:\n%s", what, d)
	}
}

func jsonOf(t testing.TB, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func checkSides(t *testing.T, c conflict.Conflict) {
	t.Helper()
	if len(c.Sides) < 2 {
		t.Errorf("%s has %d sides", c.ID, len(c.Sides))
	}
	for _, s := range c.Sides {
		if len(s.Claims) == 0 || len(s.Claims) != len(s.Says) || s.Firsthand > len(s.Papers) {
			t.Errorf("%s: side %s has %d claims, %d sayings, %d witnesses of %d papers", c.ID, s.Value, len(s.Claims), len(s.Says), s.Firsthand, len(s.Papers))
		}
	}
}

// checkLevels checks that a trial would set what sides stand on: each side has its
// level or none has, a level of no side is for comparison or the control, and there
// are two to set apart, or one at which some saw eggs hatch and others none.
func checkLevels(t *testing.T, c conflict.Conflict) {
	t.Helper()
	labels, sides := map[string]bool{}, map[int]bool{}
	for _, l := range c.Levels {
		labels[l.Label] = true
		sides[l.Side] = true
		if l.Side > len(c.Sides) || l.Side > 0 && len(l.Claims) == 0 {
			t.Errorf("%s: level %s stands on side %d with %d claims", c.ID, l.Label, l.Side, len(l.Claims))
		}
	}
	if n := len(labels); n == 1 && c.At == nil {
		t.Errorf("%s: one level, %v, tells nothing apart", c.ID, labels)
	}
	for i, s := range c.Sides {
		if len(c.Levels) > 0 && !sides[i+1] && s.Firsthand > 0 {
			t.Errorf("%s: side %s has no level", c.ID, s.Value)
		}
	}
}
