package design

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"testing"

	"hatchlore/evidence/trial"
)

var placed = regexp.MustCompile(`hold at ([\d.]+) °C in (.+) for (\d+) days`)

// No place holds two temperatures on one day, whatever the chambers, runs and
// lengths.
func TestOnePlaceOneTemperature(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 2))
	seen := 0
	for range 300 {
		req := Request{Eggs: 800, Start: start, Seed: r.Uint64(), Runs: 1 + r.IntN(2), Dishes: 96,
			Factors: []trial.Factor{parse(t, "stratification-temperature=2,5,9"), parse(t, "incubation-temperature=5,12")}}
		for range 1 + r.IntN(4) {
			low := float64(1 + r.IntN(12))
			req.Chambers = append(req.Chambers, trial.Chamber{Low: low, High: low + float64(r.IntN(10))})
		}
		p, err := layOnly(req)
		if err != nil {
			continue
		}
		at := map[string]float64{}
		stand := func(place string, from trial.Day, days int, temperature float64) {
			for n := range days {
				key := fmt.Sprint(place, from.Add(n))
				if old, ok := at[key]; ok && math.Abs(old-temperature) > trial.ChamberSlack {
					t.Fatalf("%s stands at %v and %v °C; chambers %+v", key, old, temperature, req.Chambers)
				}
				at[key] = temperature
			}
		}
		for _, d := range p.Dishes {
			for _, s := range d.Steps {
				if m := placed.FindStringSubmatch(s.Do); m != nil {
					var temperature float64
					var days int
					fmt.Sscan(m[1], &temperature)
					fmt.Sscan(m[3], &days)
					stand(m[2], s.Date, days, temperature)
					seen++
				}
				if s.Act == trial.ActMove {
					stand(d.Chamber, s.Date, d.LastLook().Since(s.Date), p.Runs[d.Run-1].Temperature)
				}
			}
		}
	}
	if seen < 1000 {
		t.Errorf("%d placed dishes test too little", seen)
	}
}

// Where every chamber can hold every temperature, each temperature stands in
// each chamber at most once, and once in every batch.
func TestChambersChangeTemperatures(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 3))
	levels := []string{"5,12", "5,10,15", "4,8,12,16"}
	for range 200 {
		n := 2 + r.IntN(3)
		req := Request{Eggs: 2000, Dishes: 120, Start: start, Seed: r.Uint64(), Runs: 2 + r.IntN(n-1),
			Factors: []trial.Factor{parse(t, "incubation-temperature="+levels[n-2]), parse(t, "drying=0,14")}}
		for range n {
			req.Chambers = append(req.Chambers, trial.Chamber{Low: 3, High: 18})
		}
		p, err := layOnly(req)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, run := range p.Runs {
			for _, key := range []string{
				fmt.Sprintf("%s at %v °C", run.Chamber, run.Temperature),
				fmt.Sprintf("%s in batch %d", run.Chamber, run.Batch),
				fmt.Sprintf("%v °C in batch %d", run.Temperature, run.Batch),
			} {
				if seen[key] {
					t.Fatalf("%s twice: %+v", key, p.Runs)
				}
				seen[key] = true
			}
		}
		if len(p.Runs) != n*req.Runs {
			t.Fatalf("%d runs of %d temperatures, %d each", len(p.Runs), n, req.Runs)
		}
	}
}
