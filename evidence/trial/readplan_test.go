package trial

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"hatchlore/evidence"
)

var update = flag.Bool("update", false, "rewrite golden files")

// The draw of dishes and labels must not change with the language's version or
// the machine: a keeper who plans again gets the same bench.
func TestSameSeedSameBench(t *testing.T) {
	p, err := New(Request{Taxon: "Branchinecta exempli", Eggs: 300, Dishes: 30, Start: start, Seed: 20260110, Runs: 2,
		Chambers: []Chamber{{Low: 4, High: 12}, {Low: 4, High: 12}}, Lots: []Lot{{"north", 160}, {"south", 140}},
		Factors: []Factor{factor(t, "incubation-temperature=5,12"), factor(t, "stratification-length=30,90"), factor(t, "trigger=carbon-dioxide")}})
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, d := range p.Dishes {
		fmt.Fprintln(&b, d.Dish, d.Label, d.Chamber, d.Run, d.Lot, d.Eggs, d.Levels, d.Control, d.Steps[0].Date, d.Steps[len(d.Steps)-1].Date)
	}
	const golden = "testdata/bench.golden"
	if *update {
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the bench has changed; got\n%s\nwant\n%s", b.String(), want)
	}
}

func TestReadPlan(t *testing.T) {
	p := questionsPlan(t, 400)
	write := func(p *Plan) *bytes.Reader {
		b, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		return bytes.NewReader(b)
	}
	if _, err := ReadPlan(write(p)); err != nil {
		t.Fatal(err)
	}
	breaks := map[string]func(*Plan){
		"no dishes":          func(p *Plan) { p.Dishes = nil },
		"two dishes":         func(p *Plan) { p.Dishes[1].Label = p.Dishes[0].Label },
		"in run 9":           func(p *Plan) { p.Dishes[0].Run = 9 },
		"0 eggs":             func(p *Plan) { p.Dishes[0].Eggs = 0 },
		"no level of drying": func(p *Plan) { p.Dishes[0].Levels = map[evidence.Factor]Setting{} },
		"fewer than two":     func(p *Plan) { p.Factors[0].Levels = nil },
		"out of order":       func(p *Plan) { p.Runs[0].Run = 2 },
	}
	for want, damage := range breaks {
		q, err := ReadPlan(write(p))
		if err != nil {
			t.Fatal(err)
		}
		damage(q)
		if _, err := ReadPlan(write(q)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want …%s…", err, want)
		}
	}
	if _, err := ReadPlan(strings.NewReader("{")); err == nil {
		t.Error("half a plan passes")
	}
}

func FuzzReadPlan(f *testing.F) {
	p, err := New(Request{Eggs: 60, Start: start, Factors: []Factor{{ID: evidence.Drying, Unit: "d", Levels: []Setting{Num(0), Num(14)}}}})
	if err != nil {
		f.Fatal(err)
	}
	b, err := json.Marshal(p)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(b))
	f.Fuzz(func(t *testing.T, s string) {
		p, err := ReadPlan(strings.NewReader(s))
		if err != nil {
			return
		}
		sheet := "dish,hatched\n"
		for _, d := range p.Dishes {
			if strings.ContainsAny(d.Label, ",\"\r\n \t") {
				return
			}
			sheet += d.Label + ",1\n"
		}
		if c, err := ReadCounts(strings.NewReader(sheet)); err == nil {
			_, _ = p.Weigh(c, WeighOptions{}) // must not panic
		}
	})
}

func FuzzParseFactor(f *testing.F) {
	for _, s := range []string{"drying=0,14", "freezing=none,-18", "light=dark,12:12", "trigger=carbon-dioxide", "ph=1e400,7"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := ParseFactor(s)
		if err != nil {
			return
		}
		var words []string
		for _, l := range got.Levels {
			words = append(words, l.String())
		}
		again, err := ParseFactor(string(got.ID) + "=" + strings.Join(words, ","))
		if err != nil || fmt.Sprint(again) != fmt.Sprint(got) {
			t.Errorf("%q is read as %v, which is read as %v (%v)", s, got, again, err)
		}
	})
}

func FuzzParseBarred(f *testing.F) {
	f.Add("sat,sun,2026-12-25")
	f.Fuzz(func(t *testing.T, s string) {
		b, err := ParseBarred(s)
		if err != nil {
			return
		}
		free := false
		for n := range 7 + len(b.Days) {
			free = free || !b.bars(start.Add(n))
		}
		if !free {
			t.Errorf("%q bars every day", s)
		}
	})
}
